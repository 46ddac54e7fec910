"""New fastenings of joints: layouts, their lines and holes, what they hold."""

from django.urls import path

from restoration.views import (
    fastening_lines,
    fastening_pages,
    fastening_paper,
    fastening_plans,
)

paths = [
    path(
        "joints/<int:joint_id>/layouts/", fastening_plans.joint_fastenings, name="joint_fastenings"
    ),
    path(
        "joints/<int:joint_id>/layouts/new/",
        fastening_plans.fastening_plan_new,
        name="fastening_plan_new",
    ),
    path("fastening-layouts/<int:pk>/", fastening_plans.fastening_plan, name="fastening_plan"),
    path(
        "fastening-layouts/<int:plan_id>/pdf/",
        fastening_paper.fastening_plan_pdf,
        name="fastening_plan_pdf",
    ),
    path(
        "fastening-layouts/<int:pk>/edit/",
        fastening_plans.fastening_plan_edit,
        name="fastening_plan_edit",
    ),
    path(
        "fastening-layouts/<int:pk>/delete/",
        fastening_plans.fastening_plan_delete,
        name="fastening_plan_delete",
    ),
    path(
        "fastening-layouts/<int:plan_id>/strength/",
        fastening_pages.fastening_strength,
        name="fastening_strength",
    ),
    path(
        "fastening-layouts/<int:plan_id>/metals/",
        fastening_pages.fastening_metals_page,
        name="fastening_metals",
    ),
    path(
        "fastening-layouts/<int:plan_id>/fastenings/new/",
        fastening_lines.planned_fastening_new,
        name="planned_fastening_new",
    ),
    path(
        "planned-fastenings/<int:pk>/edit/",
        fastening_lines.planned_fastening_edit,
        name="planned_fastening_edit",
    ),
    path(
        "planned-fastenings/<int:pk>/delete/",
        fastening_lines.planned_fastening_delete,
        name="planned_fastening_delete",
    ),
    path(
        "planned-fastenings/<int:fastening_id>/holes/",
        fastening_lines.planned_holes_lay,
        name="planned_holes_lay",
    ),
    path(
        "planned-holes/<int:pk>/edit/",
        fastening_lines.planned_hole_edit,
        name="planned_hole_edit",
    ),
    path(
        "planned-holes/<int:pk>/delete/",
        fastening_lines.planned_hole_delete,
        name="planned_hole_delete",
    ),
]
