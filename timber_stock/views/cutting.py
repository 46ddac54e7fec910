from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.db.models import ProtectedError
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.forms.cutting import CuttingItemForm, CuttingListForm
from timber_stock.models import CuttingItem, CuttingList
from timber_stock.web.pages import own_units
from timber_stock.wood.ring_limits import AUTHORITIES

A_PAGE = 100


def cutting_lists(request):
    page = Paginator(CuttingList.objects.counted(), A_PAGE).get_page(request.GET.get("page"))
    return render(request, "timber_stock/cutting_lists.html", {"page": page})


def cutting_list(request, pk):
    listed = get_object_or_404(CuttingList, pk=pk)
    items = list(listed.items.all())
    context = {
        "list": listed,
        "items": items,
        "pieces": sum(item.quantity for item in items),
        "total_mm3": sum(item.volume_all_mm3() for item in items),
    }
    return render(request, "timber_stock/cutting_list.html", context)


def cutting_list_new(request):
    return _keep_list(request, CuttingListForm(request.POST or None))


def cutting_list_edit(request, pk):
    listed = get_object_or_404(CuttingList, pk=pk)
    return _keep_list(request, CuttingListForm(request.POST or None, instance=listed), listed)


def _keep_list(request, form, listed=None):
    name = CuttingList.objects.get(pk=listed.pk).name if listed else ""
    if request.method == "POST" and form.is_valid():
        kept = form.save()
        messages.success(request, f"The list “{kept.name}” is kept.")
        return redirect(kept)
    context = {"form": form, "list": listed, "name": name}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/cutting_list_form.html", context, status=status)


def cutting_item_new(request, list_id):
    listed = get_object_or_404(CuttingList, pk=list_id)
    return _keep_item(request, CuttingItem(cutting_list=listed))


def cutting_item_edit(request, pk):
    item = get_object_or_404(CuttingItem.objects.select_related("cutting_list"), pk=pk)
    return _keep_item(request, item)


def _keep_item(request, item):
    mark = item.label
    form = CuttingItemForm(request.POST or None, instance=item, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        try:
            item.full_clean()  # with the list, which is no field of the form
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            form.save()
            messages.success(request, f"{item.label} is on the list.")
            return redirect(item.cutting_list)
    context = {
        "form": form, "list": item.cutting_list, "mark": mark, "limits": AUTHORITIES.values(),
    }  # fmt: skip
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/cutting_item_form.html", context, status=status)


def cutting_item_delete(request, pk):
    item = get_object_or_404(CuttingItem.objects.select_related("cutting_list"), pk=pk)
    if request.method == "POST":
        try:
            item.delete()
        except ProtectedError:
            messages.error(
                request,
                f"{item.label} was drawn from a replacement that still waits for it. Take it off "
                "there first.",
            )
        else:
            messages.success(request, f"{item.label} is off the list.")
        return redirect(item.cutting_list)
    return render(request, "timber_stock/cutting_item_delete.html", {"item": item})
