"""Long papers in hand, sharing an issued report by a link, checking a paper."""

from django.urls import path

from restoration.views import paper_jobs, report_check, report_links, shared_reports

paths = [
    path("reports/<int:pk>/links/", report_links.report_links, name="report_links"),
    path(
        "report-links/<int:pk>/withdraw/",
        report_links.report_link_withdraw,
        name="report_link_withdraw",
    ),
    path("shared/<str:token>/", shared_reports.shared_report, name="shared_report"),
    path("shared/<str:token>/pdf/", shared_reports.shared_report_pdf, name="shared_report_pdf"),
    path("paper-jobs/<int:pk>/", paper_jobs.paper_job, name="paper_job"),
    path("paper-jobs/<int:pk>/pdf/", paper_jobs.paper_job_pdf, name="paper_job_pdf"),
    path("paper-jobs/<int:pk>/cancel/", paper_jobs.paper_job_cancel, name="paper_job_cancel"),
    path("check/", report_check.report_check, name="report_check"),
    path("check/<str:code>/", report_check.report_check_code, name="report_check_code"),
]
