from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from timber_stock.drawings.wood_plots import shrinkage_plot_svg, weight_plot_svg
from timber_stock.forms.woods import FigureForm, WoodFilter, WoodForm
from timber_stock.models import Species, WoodFigure, figures_of
from timber_stock.models.figures import published_wood
from timber_stock.views import wood_sheet
from timber_stock.web.pages import page_or_piece, signed_by
from timber_stock.wood.cautions import cautions, trade_controlled
from timber_stock.wood.durability import STRENGTH_CAUTION
from timber_stock.wood.figures import KINDS
from timber_stock.wood.figures import STRENGTH_CAUTION as NOT_DESIGN_VALUES
from timber_stock.wood.heaviness import green_moisture

A_PAGE = 100


def woods(request):
    narrowed = WoodFilter(request.GET)
    found = narrowed.narrow(Species.objects.by_common_name().with_own_figures())
    lines = [wood_sheet.line_of(wood, trade_controlled) for wood in found]
    kept = [line for line in lines if narrowed.keeps(line)]
    page = Paginator(kept, A_PAGE).get_page(request.GET.get("page"))
    context = {"filter": narrowed, "page": page}
    return page_or_piece(request, "timber_stock/woods.html", "timber_stock/_woods.html", context)


def wood(request, pk):
    wood = get_object_or_404(Species.objects.with_own_figures(), pk=pk)
    figures = figures_of(wood)
    context = {
        "wood": wood,
        "figures": figures,
        "rows": wood_sheet.rows_of(wood, figures),
        "durability": wood_sheet.safe_durability(figures),
        "heaviness": wood_sheet.heaviness(figures),
        "water": wood_sheet.water(figures),
        "shrinkage_rows": wood_sheet.shrinkage_rows(figures),
        "shrinkage_plot": shrinkage_plot_svg(figures),
        "weight_plot": weight_plot_svg(figures, green_moisture(figures).percent),
        "cautions": cautions(figures.key),
        "controlled": trade_controlled(figures.key),
        "decay_caution": STRENGTH_CAUTION,
        "not_design_values": NOT_DESIGN_VALUES,
    }
    return render(request, "timber_stock/wood.html", context)


def wood_new(request):
    return _keep(request, WoodForm(request.POST or None), "A wood of the yard's own")


def wood_edit(request, pk):
    """Only a wood the yard added: a published one is corrected figure by figure."""
    wood = get_object_or_404(Species, pk=pk, is_ours=True)
    return _keep(request, WoodForm(request.POST or None, instance=wood), wood.common_name, wood)


def figure_set(request, pk, kind):
    wood, kept = _wood_and_figure(pk, kind)
    figure = kept or WoodFigure(species=wood, kind=kind)
    form = FigureForm(request.POST or None, instance=figure)
    if request.method == "POST" and form.is_valid():
        form.keep(signed_by(request))
        messages.success(request, f"The yard's own figure counts now: {KINDS[kind].label}.")
        return redirect(wood)
    context = {
        "form": form, "wood": wood, "kind": KINDS[kind], "kept": kept,
        "published": published_wood(wood).figure(kind),
    }  # fmt: skip
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/figure_form.html", context, status=status)


@require_POST
def figure_clear(request, pk, kind):
    """Take the yard's own figure back: the published one counts again, if there is one."""
    wood, kept = _wood_and_figure(pk, kind)
    if kept:
        kept.delete()
        messages.success(request, f"The yard's own figure is taken back: {KINDS[kind].label}.")
    return redirect(wood)


def _wood_and_figure(pk, kind):
    if kind not in KINDS:
        raise Http404
    wood = get_object_or_404(Species, pk=pk)
    return wood, wood.own_figures.filter(kind=kind).first()


def _keep(request, form, title, wood=None):
    if request.method == "POST" and form.is_valid():
        wood = form.save()
        messages.success(request, f"{wood.common_name} is kept.")
        return redirect(wood)
    context = {"form": form, "title": title, "wood": wood}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/wood_form.html", context, status=status)
