"""Pieces laid out on boards."""

from django.urls import path

from restoration.views import nesting, nesting_new

paths = [
    path("layouts/", nesting.layouts, name="layouts"),
    path("boards/<int:board_id>/lay-out/", nesting_new.layout_new, name="layout_new"),
    path("layouts/<int:pk>/", nesting.layout, name="layout"),
    path("layouts/<int:pk>/move/", nesting.layout_move, name="layout_move"),
    path("layouts/<int:pk>/search/", nesting.layout_again, name="layout_again"),
    path("layouts/<int:pk>/keep/", nesting.layout_keep, name="layout_keep"),
    path("layouts/<int:pk>/delete/", nesting.layout_delete, name="layout_delete"),
    path("layouts/<int:pk>/pdf/", nesting.layout_pdf, name="layout_pdf"),
    path("layouts/<int:pk>/promise/", nesting.layout_promise, name="layout_promise"),
]
