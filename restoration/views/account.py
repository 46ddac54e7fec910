from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from restoration.actions.rates import drop_past_rate, keep_yard
from restoration.forms.account import AccountForm, YardForm
from restoration.models import Yard
from restoration.models.yard import PastRate
from restoration.views.attempts import attempt
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
        rate_from = form.cleaned_data["rate_from"]
        if attempt(form, keep_yard, yard=form.instance, rate_from=rate_from):
            messages.success(request, "The yard's particulars are kept.")
            return redirect("restoration:yard")
    return _page(request, form, "The yard", past_rates=PastRate.objects.all())


@require_POST
def past_rate_drop(request, pk):
    drop_past_rate(rate=get_object_or_404(PastRate, pk=pk))
    messages.success(request, "It is taken away: its hours count by the rate that came after it.")
    return redirect("restoration:yard")


def _page(request, form, title: str, **more):
    context = {"form": form, "title": title, **more}
    status = 422 if form.is_bound else 200
    return render(request, "restoration/account.html", context, status=status)
