"""The picture a vessel is known by: a new one takes the place of the old."""

from restoration.models import Vessel, VesselPicture
from timber_stock.web.kept_pictures import store_files
from timber_stock.web.pictures import Picture


def set_picture(*, vessel: Vessel, picture: Picture, caption: str = "") -> VesselPicture:
    """The old file stays in the store: reports that were issued with it are drawn from it."""
    kept = VesselPicture.objects.filter(vessel=vessel).first() or VesselPicture(vessel=vessel)
    kept.width_px, kept.height_px = picture.width_px, picture.height_px
    kept.sha256, kept.caption = picture.sha256, caption
    kept.full_clean(exclude=["image", "thumbnail"])
    store_files(kept, picture)
    kept.save()
    return kept


def set_caption(*, vessel: Vessel, caption: str) -> None:
    VesselPicture.objects.filter(vessel=vessel).update(caption=caption)


def take_off_picture(*, vessel: Vessel) -> None:
    VesselPicture.objects.filter(vessel=vessel).delete()
