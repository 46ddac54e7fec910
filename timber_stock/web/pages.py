"""How every page is answered: one function decides between the whole page and a piece of it."""

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers


def page_or_piece(
    request: HttpRequest,
    page: str,
    piece: str,
    context: dict | None = None,
    *,
    status: int = 200,
) -> HttpResponse:
    """The piece when htmx asks for one, else the page that includes it.

    A refused form comes back as 422, which the site's script lets htmx swap in.
    """
    wants_piece = (
        request.htmx and not request.htmx.boosted and not request.htmx.history_restore_request
    )
    response = render(request, piece if wants_piece else page, context, status=status)
    patch_vary_headers(response, ["HX-Request"])
    return response


A_PAGE = 100


def a_page_of(request: HttpRequest, rows: QuerySet, most: int = A_PAGE) -> Page:
    """The page of a long list that `?page=` asks for, by timber_stock/_pages.html."""
    return Paginator(rows, most).get_page(request.GET.get("page"))


def own_units(request: HttpRequest) -> str:
    return getattr(request.user, "units", "imperial")


def signed_by(request: HttpRequest) -> str:
    """Who does this, by the name they are known by."""
    return request.user.get_full_name() or request.user.get_username()


USUAL_RING_LIMITS = "hardwood_trade"


def own_ring_limits(request: HttpRequest) -> str:
    """Whose limits of ring direction the yard goes by, when the page does not say otherwise."""
    return getattr(getattr(request, "yard", None), "ring_limits", USUAL_RING_LIMITS)
