"""The papers: what is handed to the client, the sawyer and the merchant; and labels."""

from django.urls import path

from restoration.views import labels, papers, stock_papers

paths = [
    path("papers/", papers.papers, name="papers"),
    path("surveys/<int:survey_id>/short-report/", papers.short_report, name="short_report"),
    path(
        "surveys/<int:survey_id>/short-report/pdf/",
        papers.short_report_pdf,
        name="short_report_pdf",
    ),
    path("members/<int:pk>/certificate/", papers.certificate, name="certificate"),
    path("members/<int:pk>/certificate/pdf/", papers.certificate_pdf, name="certificate_pdf"),
    path("vessels/<int:vessel_id>/estimate/", papers.estimate, name="estimate"),
    path("vessels/<int:vessel_id>/estimate/pdf/", papers.estimate_pdf, name="estimate_pdf"),
    path(
        "vessels/<int:vessel_id>/between-surveys/pdf/",
        papers.change_report_pdf,
        name="change_report_pdf",
    ),
    # Of the timber alone
    path("papers/saw-sheets/<int:pk>/", stock_papers.saw_sheet_pdf, name="saw_sheet_pdf"),
    path("papers/cutting-lists/<int:pk>/", stock_papers.cutting_list_pdf, name="cutting_list_pdf"),
    path("papers/logs-wanted/<int:pk>/", stock_papers.log_wanted_pdf, name="log_wanted_pdf"),
    path("papers/boards/", stock_papers.boards_pdf, name="boards_pdf"),
    path("papers/logs/", stock_papers.logs_pdf, name="logs_pdf"),
    # Labels
    path("papers/labels/", labels.labels, name="labels"),
    path("papers/labels/pdf/", labels.labels_pdf, name="labels_pdf"),
    path("papers/label-sheets/", labels.label_sheets, name="label_sheets"),
    path("papers/label-sheets/new/", labels.label_sheet_new, name="label_sheet_new"),
    path("papers/label-sheets/<int:pk>/", labels.label_sheet_edit, name="label_sheet_edit"),
    path(
        "papers/label-sheets/<int:pk>/delete/",
        labels.label_sheet_delete,
        name="label_sheet_delete",
    ),
]
