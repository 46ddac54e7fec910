from django.contrib import messages
from django.db.models import Count
from django.shortcuts import get_object_or_404, redirect, render

from restoration.forms.clients import ClientForm
from restoration.models import Client
from timber_stock.web.pages import a_page_of


def clients(request):
    listed = Client.objects.annotate(vessel_count=Count("vessels")).order_by("name", "pk")
    return render(request, "restoration/clients.html", {"page": a_page_of(request, listed)})


def client_new(request):
    return _edit(request, Client())


def client_edit(request, pk):
    return _edit(request, get_object_or_404(Client, pk=pk))


def _edit(request, client):
    form = ClientForm(request.POST or None, instance=client)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, f"{client.name} is kept.")
        return redirect("restoration:clients")
    status = 422 if form.errors else 200
    return render(request, "restoration/client_form.html", {"form": form}, status=status)
