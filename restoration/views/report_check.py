"""The check of a paper: for anyone who holds one, signed in or not."""

import hashlib

from django.contrib.auth.decorators import login_not_required
from django.shortcuts import render

from restoration.actions.report_check import by_code, by_hash
from restoration.forms.report_links import CheckForm


@login_not_required
def report_check(request):
    form = CheckForm(request.POST or None, request.FILES or None)
    if request.method != "POST":
        return render(request, "restoration/report_check.html", {"form": form})
    if not form.is_valid():
        return render(request, "restoration/report_check.html", {"form": form}, status=422)
    return _answer(request, form, _verdict(form.cleaned_data))


@login_not_required
def report_check_code(request, code):
    """Where the square code on a paper leads."""
    return _answer(request, CheckForm(), by_code(code))


def _verdict(said: dict):
    """A file outweighs what was typed: it is the whole paper."""
    if said["file"]:
        return by_hash(hashlib.file_digest(said["file"].file, "sha256").hexdigest())
    kind, plain = said["words"]
    return by_hash(plain) if kind == "hash" else by_code(plain)


def _answer(request, form: CheckForm, verdict):
    context = {"form": form, "asked": True, "verdict": verdict}
    return render(request, "restoration/report_check.html", context, status=200 if verdict else 404)
