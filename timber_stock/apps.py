from django.apps import AppConfig


class TimberStockConfig(AppConfig):
    name = "timber_stock"
    default_auto_field = "django.db.models.BigAutoField"
    verbose_name = "Timber stock"
