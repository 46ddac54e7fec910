"""The script that stands between a phone and the network, so that a round goes on without one.

It is no secret and must be had by whoever asks: a phone looks for a newer one whenever it likes,
signed in or not.
"""

import hashlib
from functools import cache
from pathlib import Path

from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.shortcuts import render
from django.templatetags.static import static

ASSETS = (
    "mark.svg",
    "css/tokens.css", "css/base.css", "css/print.css", "css/finding.css", "css/round.css",
    "fonts/NotoSans-Regular.woff2", "fonts/NotoSans-Bold.woff2", "fonts/NotoSans-Italic.woff2",
    "django_htmx/htmx-2.min.js",
    "js/site.js", "js/finding.js", "js/steppers.js", "js/queue.js", "js/send.js",
    "js/round.js", "js/round_list.js", "js/round_form.js", "js/photographs.js",
    "js/build.js", "js/take_along.js",
)  # fmt: skip


@login_not_required
def service_worker(request):
    context = {"version": version(), "assets": [static(name) for name in ASSETS]}
    response = render(request, "service-worker.js", context, content_type="text/javascript")
    response["Service-Worker-Allowed"] = "/"
    response["Cache-Control"] = "no-cache"
    return response


@cache
def version() -> str:
    """Changes whenever one of the files does, so that phones fetch them anew."""
    told = hashlib.sha256()
    for name in ASSETS:
        told.update(Path(finders.find(name)).read_bytes())
    return told.hexdigest()[:12]
