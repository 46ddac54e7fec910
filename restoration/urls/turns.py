"""The order of work: in which turns the members of a hull come out."""

from django.urls import path

from restoration.views import orders_of_work, turns

paths = [
    path(
        "vessels/<int:vessel_id>/order-of-work/", orders_of_work.vessel_order, name="vessel_order"
    ),
    path(
        "vessels/<int:vessel_id>/order-of-work/propose/",
        orders_of_work.work_order_propose,
        name="work_order_propose",
    ),
    path("orders-of-work/<int:pk>/", orders_of_work.work_order, name="work_order"),
    path(
        "orders-of-work/<int:pk>/print/", orders_of_work.work_order_print, name="work_order_print"
    ),
    path(
        "orders-of-work/<int:pk>/accept/",
        orders_of_work.work_order_accept,
        name="work_order_accept",
    ),
    path(
        "orders-of-work/<int:pk>/set-aside/",
        orders_of_work.work_order_aside,
        name="work_order_aside",
    ),
    path("orders-of-work/<int:order_id>/turns/<int:number>/", turns.turn, name="turn"),
    path("orders-of-work/<int:order_id>/rules/new/", turns.turn_rule_new, name="turn_rule_new"),
    path(
        "orders-of-work/<int:order_id>/neighbours/", turns.turn_neighbours, name="turn_neighbours"
    ),
    path(
        "orders-of-work/<int:order_id>/neighbours/set/",
        turns.turn_neighbours_set,
        name="turn_neighbours_set",
    ),
    path("turns/<int:pk>/edit/", turns.turn_edit, name="turn_edit"),
    path("turn-rules/<int:pk>/delete/", turns.turn_rule_delete, name="turn_rule_delete"),
    path("turn-members/<int:pk>/move/", turns.turn_member_move, name="turn_member_move"),
]
