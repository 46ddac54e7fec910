"""Boards matched to replacements."""

from django.urls import path

from restoration.views import matching

paths = [
    path("matching/", matching.matching, name="matching"),
    path("matching/accept/", matching.matching_accept, name="matching_accept"),
    path("boards/<int:board_id>/could-become/", matching.board_uses, name="board_uses"),
]
