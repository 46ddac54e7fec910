from django import forms

from timber_stock.models import Supplier


class SupplierForm(forms.ModelForm):
    class Meta:
        model = Supplier
        fields = ["name", "place", "contact", "note"]
