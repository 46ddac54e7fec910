import uuid

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.copied import copy_finding
from restoration.forms.copied import CopyForm, alike, next_to
from restoration.models import Finding


def finding_copy(request, pk):
    """Choose the neighbours, see what will be kept, keep it."""
    rows = Finding.objects.select_related("survey__vessel", "member", "recorded_by")
    finding = get_object_or_404(rows, pk=pk)
    if request.method != "POST":
        near = next_to(finding.member, list(alike(finding.member)))
        form = CopyForm(finding=finding, initial={"made_id": uuid.uuid4(), "to": near})
        return _show(request, finding, form)
    form = CopyForm(request.POST, finding=finding)
    if not form.is_valid():
        return _show(request, finding, form, status=422)
    if "keep" not in request.POST:
        return _show(request, finding, form, preview=form.cleaned_data["to"])
    try:
        kept = copy_finding(finding=finding, by=request.user, **form.cleaned_data)
    except ValidationError as error:
        form.add_error(None, error.messages)
        return _show(request, finding, form, status=422)
    marks = ", ".join(str(one.member) for one in kept)
    messages.success(request, f"The finding of {finding.member} is copied to {marks}.")
    return redirect(finding.survey)


def _show(request, finding, form, *, preview=(), status=200):
    done = dict(
        finding.survey.findings.order_by("recorded_at", "pk").values_list("member_id", "condition")
    )
    chosen = {str(value) for value in form["to"].value() or ()}
    context = {
        "finding": finding,
        "survey": finding.survey,
        "member": finding.member,
        "causes": finding.causes.all(),
        "form": form,
        "others": [
            {"member": other, "has": done.get(other.pk), "chosen": str(other.pk) in chosen}
            for other in alike(finding.member)
        ],
        "preview": [(member, done.get(member.pk)) for member in preview],
    }
    return render(request, "restoration/finding_copy.html", context, status=status)
