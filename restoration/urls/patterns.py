"""Patterns: the true shapes of members, typed or taken from drawings, and their papers."""

from django.urls import path

from restoration.views import pattern_dxf, pattern_entry, pattern_files, patterns

paths = [
    path("vessels/<int:vessel_id>/patterns/", patterns.patterns, name="patterns"),
    path("members/<int:member_id>/patterns/new/", patterns.pattern_new, name="pattern_new"),
    path(
        "members/<int:member_id>/patterns/offsets/",
        pattern_entry.pattern_offsets,
        name="pattern_offsets",
    ),
    path("members/<int:member_id>/patterns/dxf/", pattern_dxf.pattern_dxf, name="pattern_dxf"),
    path("patterns/<int:pk>/", patterns.pattern, name="pattern"),
    path("patterns/<int:pk>/edit/", pattern_entry.pattern_edit, name="pattern_edit"),
    path("patterns/<int:pk>/delete/", patterns.pattern_delete, name="pattern_delete"),
    path("patterns/<int:pk>/dxf/", pattern_files.pattern_dxf_file, name="pattern_dxf_file"),
    path("patterns/<int:pk>/drawing/", pattern_files.pattern_drawing, name="pattern_drawing"),
    path("patterns/<int:pk>/svg/", pattern_files.pattern_svg, name="pattern_svg"),
    path("patterns/<int:pk>/paper/", pattern_files.pattern_tiles, name="pattern_tiles"),
]
