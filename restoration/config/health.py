from django.db import connection
from django.http import HttpResponse


def health(request):
    """For whoever watches the server: the site answers and the database does too."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return HttpResponse("ok", content_type="text/plain")
