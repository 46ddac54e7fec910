from django import forms

from restoration.models import Client


class ClientForm(forms.ModelForm):
    class Meta:
        model = Client
        fields = ["name", "email", "telephone", "address", "note"]
        widgets = {"address": forms.Textarea({"rows": 3}), "note": forms.Textarea({"rows": 3})}
