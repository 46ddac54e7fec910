"""Money, and the chain of origin as open data."""

from django.urls import path

from restoration.views import money, prov

paths = [
    path("vessels/<int:vessel_id>/money/", money.vessel_money, name="vessel_money"),
    path("vessels/<int:vessel_id>/costs/new/", money.vessel_cost_new, name="vessel_cost_new"),
    path("specs/<int:spec_id>/money/", money.spec_money, name="spec_money"),
    path("specs/<int:spec_id>/costs/new/", money.spec_cost_new, name="spec_cost_new"),
    path("costs/<int:pk>/take-back/", money.cost_take_back, name="cost_take_back"),
    path("logs/<int:log_id>/money/", money.log_money, name="log_money"),
    path("t/<str:tag>/prov.json", prov.thread_prov, name="thread_prov"),
]
