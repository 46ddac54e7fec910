"""Patterns from photographs, and what a pattern needs from the wood."""

from django.urls import path

from restoration.views import pattern_needs, pattern_photographs, pattern_traces

paths = [
    path(
        "members/<int:member_id>/pattern-photographs/new/",
        pattern_photographs.pattern_photograph_new,
        name="pattern_photograph_new",
    ),
    path(
        "pattern-photographs/<int:pk>/",
        pattern_photographs.pattern_photograph,
        name="pattern_photograph",
    ),
    path(
        "pattern-photographs/<int:pk>/delete/",
        pattern_photographs.pattern_photograph_delete,
        name="pattern_photograph_delete",
    ),
    path(
        "pattern-photographs/<int:pk>/picture/<str:size>/",
        pattern_photographs.pattern_photograph_file,
        name="pattern_photograph_file",
    ),
    path(
        "pattern-photographs/<int:pk>/true/",
        pattern_photographs.pattern_rectified,
        name="pattern_rectified",
    ),
    path("pattern-photographs/<int:pk>/trace/", pattern_traces.pattern_trace, name="pattern_trace"),
    path("patterns/<int:pk>/needs/", pattern_needs.pattern_needs, name="pattern_needs"),
]
