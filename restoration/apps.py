from django.apps import AppConfig


class RestorationConfig(AppConfig):
    name = "restoration"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "Vessels and their restoration"
