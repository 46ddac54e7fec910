"""Labels: which ones, and on what; and the dimensions of the yard's own sheets."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from restoration.calc.label_sheet import COMMON
from restoration.forms.labels import LabelSheetForm, LabelsOfForm, PrintLabelsForm
from restoration.models import LabelSheet
from restoration.reports import labels as gathered
from restoration.reports.pdf.labels import draw_labels
from restoration.views.paper_answers import pdf_answer
from timber_stock.web.pages import own_units

REMEMBERED = "label_sheet"
NONE_TICKED = "Tick at least one label to print."
TOO_MANY = (
    "{ticked} labels are ticked, and one PDF holds " + str(gathered.MOST) + " at most: print some, "
    "then the others."
)
NONE_LEFT = "None of the ticked pieces is in the register any more."


def labels(request):
    return _show(request, PrintLabelsForm(initial=_usual(request)))


def _usual(request) -> dict:
    """The sheet used last, so that one printer's labels are chosen once."""
    last = request.session.get(REMEMBERED)
    return {"first": 1} | ({"sheet": last} if last else {})


def labels_pdf(request):
    if request.method != "POST":
        return redirect("restoration:labels")
    form = PrintLabelsForm(request.POST)
    ticked = request.POST.getlist("label")
    chosen = gathered.by_keys(ticked, own_units(request), _address_in(request))
    if refusal := _refusal(ticked, chosen):
        form.add_error(None, refusal)
    if form.is_valid():
        said = form.cleaned_data
        try:
            drawn = draw_labels(chosen, form.layout(), said["first"], outline=said["outline"])
        except ValueError as error:
            form.add_error(None, str(error))
        else:
            request.session[REMEMBERED] = said["sheet"]
            return pdf_answer(drawn, "labels")
    return _show(request, form, set(ticked))


def _refusal(ticked: list[str], chosen: list) -> str:
    if not ticked:
        return NONE_TICKED
    if len(ticked) > gathered.MOST:
        return TOO_MANY.format(ticked=len(ticked))
    return "" if chosen else NONE_LEFT


def _show(request, form: PrintLabelsForm, ticked: set[str] | None = None):
    asked = request.POST if request.method == "POST" else request.GET
    of = LabelsOfForm(asked if any(asked.get(n) for n in ("log", "vessel", "q")) else None)
    groups = _groups(request, of, asked.get("member", ""))
    keys = {label.key for group in groups for label in group.labels}
    context = {
        "of": of,
        "form": form,
        "groups": [group for group in groups if group.labels],
        "asked": {name: asked.get(name, "") for name in ("log", "vessel", "q", "member")},
        "nothing": (of.is_bound or asked.get("member")) and not keys,
        "ticked": keys if ticked is None else ticked,
        "sheets": LabelSheet.objects.all(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "restoration/labels.html", context, status=status)


def _groups(request, of: LabelsOfForm, member: str) -> list[gathered.Group]:
    units, address = own_units(request), _address_in(request)
    if member.isdecimal():
        found = gathered.by_keys([f"member-{member}"], units, address)
        return [gathered.Group("Member", tuple(found))]
    if not of.is_valid():
        return []
    said = of.cleaned_data
    if said["log"]:
        return gathered.of_log(said["log"], units, address, said["q"])
    if said["vessel"]:
        return gathered.of_vessel(said["vessel"], units, address, said["q"])
    return gathered.by_text(said["q"], units, address)


def _address_in(request):
    """A label is read far from this page: its code holds the whole address."""

    def address(tag: str) -> str:
        return request.build_absolute_uri(reverse("restoration:thread", args=[tag]))

    return address


def label_sheets(request):
    context = {"sheets": LabelSheet.objects.all(), "common": COMMON.values()}
    return render(request, "restoration/label_sheets.html", context)


def label_sheet_new(request):
    return _keep(request, LabelSheetForm(request.POST or None, units=own_units(request)))


def label_sheet_edit(request, pk):
    sheet = get_object_or_404(LabelSheet, pk=pk)
    form = LabelSheetForm(request.POST or None, instance=sheet, units=own_units(request))
    return _keep(request, form, sheet)


def _keep(request, form: LabelSheetForm, sheet: LabelSheet | None = None):
    name = LabelSheet.objects.get(pk=sheet.pk).name if sheet else ""
    if request.method == "POST" and form.is_valid():
        kept = form.save()
        messages.success(request, f"The label sheet “{kept.name}” is kept.")
        return redirect("restoration:label_sheets")
    context = {"form": form, "sheet": sheet, "name": name}
    status = 422 if form.is_bound else 200
    return render(request, "restoration/label_sheet_form.html", context, status=status)


@require_POST
def label_sheet_delete(request, pk):
    sheet = get_object_or_404(LabelSheet, pk=pk)
    sheet.delete()
    messages.success(request, f"The label sheet “{sheet.name}” is taken off the list.")
    return redirect("restoration:label_sheets")
