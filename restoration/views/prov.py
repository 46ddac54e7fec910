"""The chain of a member, a board or a log as PROV-JSON, to keep or to hand on."""

from django.http import Http404, JsonResponse
from django.urls import reverse
from django.utils.cache import patch_cache_control
from django.utils.text import slugify

from restoration.reports.prov_chain import chains_as_prov
from restoration.reports.thread_lookup import answers
from restoration.reports.thread_page import timber_of


def thread_prov(request, tag):
    """Of the first that answers to the tag; `?as=member` and so on tells namesakes apart."""
    kind = request.GET.get("as")
    found = [answer for answer in answers(tag) if kind in (None, answer.kind)]
    if not found:
        raise Http404
    answer, gathered = found[0], timber_of(found[0])
    chains = [
        gathered.chain_of(use)
        for use in gathered.uses
        if answer.kind != "member" or use.member_id == answer.id
    ]
    register = request.build_absolute_uri(reverse("restoration:trace"))
    told = JsonResponse(chains_as_prov(chains, register=register), json_dumps_params={"indent": 2})
    name = slugify(answer.name) or "thread"
    told["Content-Disposition"] = f'attachment; filename="{name}-origin.prov.json"'
    patch_cache_control(told, private=True, no_store=True)
    return told
