"""Every address of the register, one file a theme."""

from restoration.urls import matching, papers, register, report, turns

app_name = "restoration"

urlpatterns = [
    *register.paths,
    *papers.paths,
    *matching.paths,
    *report.paths,
    *turns.paths,
]
