from restoration import timber
from restoration.models import Client, User, Yard

from .read import read

PASSWORD = "demo-only"


def load_yard() -> None:
    said = read("yard")
    Yard.objects.update_or_create(pk=1, defaults=said["yard"])
    for row in said["client"]:
        Client.objects.create(**row)
    for row in said["person"]:
        client = Client.objects.filter(name=row.pop("client", None)).first()
        User.objects.create_user(password=PASSWORD, client=client, **row)
    for row in said["supplier"]:
        timber.Supplier.objects.create(**row)
