from django.urls import path

from restoration.views import (
    account,
    allotments,
    between_surveys,
    causes_reasoned,
    clients,
    copied_findings,
    cutting,
    field_sheet,
    findings,
    home,
    hull_lines,
    hull_sheet,
    joints,
    marked_photographs,
    member_removal,
    members,
    members_by_range,
    offline,
    photographs,
    reading_meanings,
    received_findings,
    repeated_members,
    replacements,
    reports,
    samples,
    setting_out,
    surveys,
    thread,
    vessels,
)

app_name = "restoration"

urlpatterns = [
    path("", home.home, name="home"),
    path("account/", account.account, name="account"),
    path("yard/", account.yard, name="yard"),
    # Vessels and members
    path("clients/", clients.clients, name="clients"),
    path("clients/new/", clients.client_new, name="client_new"),
    path("clients/<int:pk>/edit/", clients.client_edit, name="client_edit"),
    path("vessels/", vessels.vessels, name="vessels"),
    path("vessels/new/", vessels.vessel_new, name="vessel_new"),
    path("vessels/<int:pk>/", vessels.vessel, name="vessel"),
    path("vessels/<int:pk>/edit/", vessels.vessel_edit, name="vessel_edit"),
    path("vessels/<int:vessel_id>/members/new/", members.member_new, name="member_new"),
    path(
        "vessels/<int:vessel_id>/members/repeat/",
        repeated_members.members_repeat,
        name="members_repeat",
    ),
    path("members/<int:pk>/", members.member, name="member"),
    path("members/<int:pk>/edit/", members.member_edit, name="member_edit"),
    path("members/<int:pk>/delete/", member_removal.member_delete, name="member_delete"),
    path(
        "vessels/<int:vessel_id>/members/by-range/",
        members_by_range.members_by_range,
        name="members_by_range",
    ),
    path("vessels/<int:vessel_id>/set-out/", setting_out.set_out, name="set_out"),
    path("vessels/<int:vessel_id>/hull/", hull_sheet.hull_sheet, name="hull_sheet"),
    path("vessels/<int:vessel_id>/hull/lines/", hull_lines.hull_lines, name="hull_lines"),
    path(
        "vessels/<int:vessel_id>/between-surveys/",
        between_surveys.between_surveys,
        name="between_surveys",
    ),
    path("members/<int:member_id>/joints/new/", joints.joint_new, name="joint_new"),
    path("joints/<int:pk>/delete/", joints.joint_delete, name="joint_delete"),
    path("joints/<int:joint_id>/fastenings/new/", joints.fastening_new, name="fastening_new"),
    path("fastenings/<int:pk>/delete/", joints.fastening_delete, name="fastening_delete"),
    # Surveys and findings
    path("surveys/", surveys.surveys, name="surveys"),
    path("vessels/<int:vessel_id>/surveys/new/", surveys.survey_new, name="survey_new"),
    path("surveys/<int:pk>/", surveys.survey, name="survey"),
    path("surveys/<int:pk>/edit/", surveys.survey_edit, name="survey_edit"),
    path(
        "surveys/<int:survey_id>/members/<int:member_id>/",
        findings.finding_new,
        name="finding_new",
    ),
    path("surveys/<int:survey_id>/offline/", offline.round_offline, name="round_offline"),
    path(
        "surveys/<int:survey_id>/findings/",
        received_findings.finding_receive,
        name="finding_receive",
    ),
    path("fresh-token/", received_findings.fresh_token, name="fresh_token"),
    path("findings/<int:pk>/", findings.finding, name="finding"),
    path(
        "findings/<int:finding_id>/readings/",
        reading_meanings.readings_meaning,
        name="readings_meaning",
    ),
    path(
        "surveys/<int:survey_id>/members/<int:member_id>/causes/",
        causes_reasoned.causes_reasoned_member,
        name="causes_reasoned",
    ),
    path(
        "findings/<int:finding_id>/causes/",
        causes_reasoned.causes_reasoned_finding,
        name="causes_reasoned",
    ),
    path("findings/<int:pk>/copy/", copied_findings.finding_copy, name="finding_copy"),
    # Photographs marked up and compared
    path(
        "photographs/<int:pk>/marks/", marked_photographs.photograph_marks, name="photograph_marks"
    ),
    path(
        "photograph-marks/<int:pk>/delete/",
        marked_photographs.photograph_mark_delete,
        name="photograph_mark_delete",
    ),
    path("photographs/<int:pk>/move/", marked_photographs.photograph_move, name="photograph_move"),
    path(
        "photographs/<int:pk>/caption/",
        marked_photographs.photograph_caption,
        name="photograph_caption",
    ),
    path(
        "members/<int:pk>/photographs/",
        marked_photographs.member_photographs,
        name="member_photographs",
    ),
    path(
        "members/<int:member_id>/photographs/compare/",
        marked_photographs.photographs_compare,
        name="photographs_compare",
    ),
    path("photographs/<int:pk>/<str:size>/", photographs.photograph, name="photograph"),
    # Fastening samples
    path("surveys/<int:survey_id>/samples/", samples.samples, name="samples"),
    path("surveys/<int:survey_id>/samples/new/", samples.sample_new, name="sample_new"),
    path("samples/<int:pk>/", samples.sample, name="sample"),
    path("samples/<int:pk>/result/", samples.sample_result, name="sample_result"),
    # The round on paper
    path("surveys/<int:survey_id>/field-sheet/", field_sheet.field_sheet, name="field_sheet"),
    path(
        "surveys/<int:survey_id>/field-sheet/entry/",
        field_sheet.field_sheet_entry,
        name="field_sheet_entry",
    ),
    # Replacements and allotments
    path("replacements/", replacements.replacements, name="replacements"),
    path("findings/<int:finding_id>/specify/", replacements.spec_new, name="spec_new"),
    path("specs/<int:pk>/", replacements.spec, name="spec"),
    path("specs/<int:pk>/edit/", replacements.spec_edit, name="spec_edit"),
    path("specs/<int:pk>/withdraw/", replacements.spec_withdraw, name="spec_withdraw"),
    path("specs/<int:spec_id>/allot/", allotments.allot, name="allot"),
    path("allotments/<int:pk>/cut/", allotments.allotment_cut, name="allotment_cut"),
    path("allotments/<int:pk>/fitted/", allotments.allotment_fitted, name="allotment_fitted"),
    path("allotments/<int:pk>/withdraw/", allotments.allotment_withdraw, name="allotment_withdraw"),
    path("replacements/cutting/", cutting.cutting_from_specs, name="cutting_from_specs"),
    path(
        "wanted-timbers/<int:pk>/delete/", cutting.wanted_timber_delete, name="wanted_timber_delete"
    ),
    # The thread
    path("t/", thread.trace, name="trace"),
    path("t/<str:tag>/", thread.thread, name="thread"),
    # Reports
    path("reports/", reports.reports, name="reports"),
    path("reports/<int:pk>/", reports.report, name="report"),
    path("reports/<int:pk>/pdf/", reports.report_pdf, name="report_pdf"),
    path("surveys/<int:survey_id>/report/", reports.report_draft, name="report_draft"),
    path("surveys/<int:survey_id>/report/pdf/", reports.report_draft_pdf, name="report_draft_pdf"),
    path("surveys/<int:survey_id>/report/issue/", reports.report_issue, name="report_issue"),
]
