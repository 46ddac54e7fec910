"""Pictures that go with reports and with the vessel herself."""

from django.urls import path

from restoration.views import report_reading, shared_reports, vessels

paths = [
    path("vessels/<int:pk>/picture/<str:size>/", vessels.vessel_picture, name="vessel_picture"),
    path(
        "reports/<int:pk>/photographs/<int:number>/",
        report_reading.report_photograph,
        name="report_photograph",
    ),
    path(
        "shared/<str:token>/photographs/<int:number>/",
        shared_reports.shared_report_photograph,
        name="shared_report_photograph",
    ),
]
