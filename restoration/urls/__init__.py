"""Every address of the register, one file a theme."""

from restoration.urls import (
    fastenings,
    matching,
    money,
    nesting,
    papers,
    pattern_photographs,
    patterns,
    register,
    report,
    sharing,
    turns,
    work,
)

app_name = "restoration"

urlpatterns = [
    *register.paths,
    *fastenings.paths,
    *papers.paths,
    *pattern_photographs.paths,
    *matching.paths,
    *money.paths,
    *patterns.paths,
    *nesting.paths,
    *work.paths,
    *report.paths,
    *sharing.paths,
    *turns.paths,
]
