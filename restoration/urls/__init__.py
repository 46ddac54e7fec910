"""Every address of the register, one file a theme."""

from restoration.urls import fastenings, matching, papers, register, report, sharing, turns, work

app_name = "restoration"

urlpatterns = [
    *register.paths,
    *fastenings.paths,
    *papers.paths,
    *matching.paths,
    *work.paths,
    *report.paths,
    *sharing.paths,
    *turns.paths,
]
