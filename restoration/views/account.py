from django.contrib import messages
from django.shortcuts import redirect, render

from restoration.forms.account import AccountForm, YardForm
from restoration.models import Yard
from timber_stock.web.pages import own_units


def account(request):
    form = AccountForm(request.POST or None, instance=request.user)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, "Your account is kept.")
        return redirect("restoration:account")
    return _page(request, form, "Your account")


def yard(request):
    form = YardForm(request.POST or None, instance=Yard.current(), units=own_units(request))
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, "The yard's particulars are kept.")
        return redirect("restoration:yard")
    return _page(request, form, "The yard")


def _page(request, form, title: str):
    context = {"form": form, "title": title}
    status = 422 if form.is_bound else 200
    return render(request, "restoration/account.html", context, status=status)
