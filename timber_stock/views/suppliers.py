from django.contrib import messages
from django.db.models import Count
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.forms.supplier import SupplierForm
from timber_stock.models import Supplier
from timber_stock.web.pages import a_page_of


def suppliers(request):
    counted = Supplier.objects.annotate(
        log_count=Count("logs", distinct=True), board_count=Count("boards", distinct=True)
    ).order_by("name", "pk")
    return render(request, "timber_stock/suppliers.html", {"page": a_page_of(request, counted)})


def supplier_new(request):
    return _keep(request, SupplierForm(request.POST or None), "A supplier")


def supplier_edit(request, pk):
    supplier = get_object_or_404(Supplier, pk=pk)
    return _keep(request, SupplierForm(request.POST or None, instance=supplier), supplier.name)


def _keep(request, form, title):
    if request.method == "POST" and form.is_valid():
        supplier = form.save()
        messages.success(request, f"{supplier.name} is kept.")
        return redirect("timber_stock:suppliers")
    status = 422 if form.is_bound else 200
    context = {"form": form, "title": title}
    return render(request, "timber_stock/supplier_form.html", context, status=status)
