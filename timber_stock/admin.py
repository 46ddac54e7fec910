from django.contrib import admin

from .models import Species, Supplier

# Logs, boards and sawings are written through actions only, so they are not here.
admin.site.register(Supplier)


@admin.register(Species)
class SpeciesAdmin(admin.ModelAdmin):
    list_display = ["common_name", "botanical_name", "group", "is_ours"]
    search_fields = ["common_name", "botanical_name"]
