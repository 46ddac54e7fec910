"""Who may open which page: the one place. A page that is not in the table opens for nobody."""

from django.core.exceptions import PermissionDenied
from django.http import Http404

from restoration.models import Report, Vessel

PUBLIC = {
    "sign_in",
    "health",
    "service_worker",
    # A signed link shows one report; the check of a paper tells nothing the paper does not.
    "restoration:shared_report",
    "restoration:shared_report_pdf",
    "restoration:shared_report_photograph",
    "restoration:report_check",
    "restoration:report_check_code",
}

EVERYONE = {"yard", "surveyor", "client"}
TRADE = {"yard", "surveyor"}
YARD = {"yard"}

ACCESS: dict[str, set[str]] = {
    "sign_out": EVERYONE,
    "restoration:home": EVERYONE,
    "restoration:account": EVERYONE,
    # Vessels and members
    "restoration:vessels": EVERYONE,
    "restoration:vessel": EVERYONE,
    "restoration:vessel_new": TRADE,
    "restoration:vessel_edit": TRADE,
    "restoration:clients": TRADE,
    "restoration:client_new": TRADE,
    "restoration:client_edit": TRADE,
    "restoration:member_new": TRADE,
    "restoration:members_repeat": TRADE,
    "restoration:member": TRADE,
    "restoration:member_edit": TRADE,
    "restoration:member_delete": TRADE,
    "restoration:members_by_range": TRADE,
    "restoration:hull_sheet": TRADE,
    "restoration:hull_lines": TRADE,
    "restoration:set_out": TRADE,
    "restoration:between_surveys": TRADE,
    "restoration:joint_new": TRADE,
    "restoration:joint_delete": TRADE,
    "restoration:fastening_new": TRADE,
    "restoration:fastening_delete": TRADE,
    # New fastenings laid out
    "restoration:joint_fastenings": TRADE,
    "restoration:fastening_plan_new": TRADE,
    "restoration:fastening_plan": TRADE,
    "restoration:fastening_plan_pdf": TRADE,
    "restoration:fastening_plan_edit": TRADE,
    "restoration:fastening_plan_delete": TRADE,
    "restoration:fastening_strength": TRADE,
    "restoration:fastening_metals": TRADE,
    "restoration:planned_fastening_new": TRADE,
    "restoration:planned_fastening_edit": TRADE,
    "restoration:planned_fastening_delete": TRADE,
    "restoration:planned_holes_lay": TRADE,
    "restoration:planned_hole_edit": TRADE,
    "restoration:planned_hole_delete": TRADE,
    # Surveys and findings
    "restoration:surveys": TRADE,
    "restoration:survey_new": TRADE,
    "restoration:survey": TRADE,
    "restoration:survey_edit": TRADE,
    "restoration:finding_new": TRADE,
    "restoration:finding": TRADE,
    "restoration:finding_copy": TRADE,
    "restoration:round_offline": TRADE,
    "restoration:finding_receive": TRADE,
    "restoration:fresh_token": TRADE,
    "restoration:photograph": TRADE,
    "restoration:photograph_marks": TRADE,
    "restoration:photograph_mark_delete": TRADE,
    "restoration:photograph_move": TRADE,
    "restoration:photograph_caption": TRADE,
    "restoration:member_photographs": TRADE,
    "restoration:photographs_compare": TRADE,
    # Readings, causes and samples
    "restoration:readings_meaning": TRADE,
    "restoration:causes_reasoned": TRADE,
    "restoration:samples": TRADE,
    "restoration:sample_new": TRADE,
    "restoration:sample": TRADE,
    "restoration:sample_result": TRADE,
    # The round on paper
    "restoration:field_sheet": TRADE,
    "restoration:field_sheet_entry": TRADE,
    # Replacements and allotments
    "restoration:replacements": TRADE,
    "restoration:spec_new": TRADE,
    "restoration:spec": TRADE,
    "restoration:spec_edit": TRADE,
    "restoration:spec_withdraw": TRADE,
    "restoration:spec_saw": TRADE,
    "restoration:retightenings": TRADE,
    "restoration:retighten_done": YARD,
    "restoration:retighten_edit": YARD,
    "restoration:retighten_new": YARD,
    "restoration:allot": YARD,
    "restoration:allotment_cut": YARD,
    "restoration:allotment_fitted": YARD,
    "restoration:allotment_withdraw": YARD,
    "restoration:cutting_from_specs": YARD,
    "restoration:wanted_timber_delete": YARD,
    # The yard board
    "restoration:yard_board": TRADE,
    "restoration:yard_board_finished": TRADE,
    "restoration:work": TRADE,
    "restoration:work_record": YARD,
    "restoration:work_reach": YARD,
    "restoration:work_take_back": YARD,
    "restoration:work_plan": YARD,
    "restoration:work_wait_new": YARD,
    "restoration:work_wait_over": YARD,
    "restoration:work_hours_take_back": YARD,
    # Boards matched to replacements
    "restoration:matching": TRADE,
    "restoration:matching_accept": YARD,
    "restoration:board_uses": TRADE,
    # Pieces laid out on boards
    "restoration:layouts": TRADE,
    "restoration:layout_new": YARD,
    "restoration:layout": TRADE,
    "restoration:layout_move": YARD,
    "restoration:layout_again": YARD,
    "restoration:layout_keep": YARD,
    "restoration:layout_delete": YARD,
    "restoration:layout_pdf": TRADE,
    "restoration:layout_promise": YARD,
    # The order of work
    "restoration:vessel_order": TRADE,
    "restoration:work_order": TRADE,
    "restoration:work_order_print": TRADE,
    "restoration:work_order_propose": YARD,
    "restoration:work_order_accept": YARD,
    "restoration:work_order_aside": YARD,
    "restoration:turn": TRADE,
    "restoration:turn_edit": YARD,
    "restoration:turn_member_move": YARD,
    "restoration:turn_rule_new": YARD,
    "restoration:turn_rule_delete": YARD,
    "restoration:turn_neighbours": TRADE,
    "restoration:turn_neighbours_set": YARD,
    # The thread
    "restoration:trace": TRADE,
    "restoration:thread": TRADE,
    # Reports
    "restoration:vessel_picture": EVERYONE,
    "restoration:report_photograph": EVERYONE,
    "restoration:reports": EVERYONE,
    "restoration:report_draft": TRADE,
    "restoration:report_draft_pdf": TRADE,
    "restoration:report_issue": TRADE,
    "restoration:report": EVERYONE,
    "restoration:report_pdf": EVERYONE,
    "restoration:paper_job": TRADE,
    "restoration:paper_job_pdf": TRADE,
    "restoration:paper_job_cancel": TRADE,
    "restoration:report_links": TRADE,
    "restoration:report_link_withdraw": TRADE,
    "restoration:yard": YARD,
    # The papers
    "restoration:papers": TRADE,
    "restoration:short_report": TRADE,
    "restoration:short_report_pdf": TRADE,
    "restoration:certificate": TRADE,
    "restoration:certificate_pdf": TRADE,
    "restoration:estimate": TRADE,
    "restoration:estimate_pdf": TRADE,
    "restoration:change_report_pdf": TRADE,
    "restoration:saw_sheet_pdf": TRADE,
    "restoration:cutting_list_pdf": TRADE,
    "restoration:log_wanted_pdf": TRADE,
    "restoration:boards_pdf": TRADE,
    "restoration:logs_pdf": TRADE,
    "restoration:labels": TRADE,
    "restoration:labels_pdf": TRADE,
    "restoration:label_sheets": TRADE,
    "restoration:label_sheet_new": YARD,
    "restoration:label_sheet_edit": YARD,
    "restoration:label_sheet_delete": YARD,
    # Patterns
    "restoration:patterns": TRADE,
    "restoration:pattern": TRADE,
    "restoration:pattern_new": TRADE,
    "restoration:pattern_offsets": TRADE,
    "restoration:pattern_dxf": TRADE,
    "restoration:pattern_edit": TRADE,
    "restoration:pattern_delete": TRADE,
    "restoration:pattern_dxf_file": TRADE,
    "restoration:pattern_svg": TRADE,
    "restoration:pattern_tiles": TRADE,
    # Patterns from photographs, and what a pattern needs from the wood
    "restoration:pattern_photograph_new": TRADE,
    "restoration:pattern_photograph": TRADE,
    "restoration:pattern_photograph_file": TRADE,
    "restoration:pattern_photograph_delete": TRADE,
    "restoration:pattern_rectified": TRADE,
    "restoration:pattern_trace": TRADE,
    "restoration:pattern_needs": TRADE,
    # Timber stock
    "timber_stock:stock": TRADE,
    "timber_stock:suppliers": TRADE,
    "timber_stock:supplier_new": YARD,
    "timber_stock:supplier_edit": YARD,
    "timber_stock:logs": TRADE,
    "timber_stock:log": TRADE,
    "timber_stock:log_new": YARD,
    "timber_stock:log_edit": YARD,
    "timber_stock:log_saw": YARD,
    "timber_stock:boards": TRADE,
    "timber_stock:board": TRADE,
    "timber_stock:board_new": YARD,
    "timber_stock:board_edit": YARD,
    "timber_stock:board_resaw": YARD,
    "timber_stock:moisture_new": YARD,
    # The log sheet
    "timber_stock:log_sheet": TRADE,
    "timber_stock:log_ledger": TRADE,
    "timber_stock:log_measure": YARD,
    "timber_stock:log_defect_new": YARD,
    "timber_stock:log_defect_delete": YARD,
    "timber_stock:log_photograph_new": YARD,
    "timber_stock:log_photograph": YARD,
    "timber_stock:log_photograph_delete": YARD,
    "timber_stock:log_photograph_file": TRADE,
    # Cutting lists
    "timber_stock:cutting_lists": TRADE,
    "timber_stock:cutting_list": TRADE,
    "timber_stock:cutting_list_new": YARD,
    "timber_stock:cutting_list_edit": YARD,
    "timber_stock:cutting_item_new": YARD,
    "timber_stock:cutting_item_edit": YARD,
    "timber_stock:cutting_item_delete": YARD,
    "timber_stock:log_wanted": TRADE,
    "timber_stock:log_choice": TRADE,
    # Woods and what they do
    "timber_stock:woods": TRADE,
    "timber_stock:wood": TRADE,
    "timber_stock:wood_new": YARD,
    "timber_stock:wood_edit": YARD,
    "timber_stock:figure_set": YARD,
    "timber_stock:figure_clear": YARD,
    "timber_stock:climates": TRADE,
    "timber_stock:climate_new": YARD,
    "timber_stock:climate_edit": YARD,
    "timber_stock:service_set": YARD,
    "timber_stock:service_clear": YARD,
    "timber_stock:moisture_tools": TRADE,
    "timber_stock:shrinkage_tools": TRADE,
    "timber_stock:lift_tools": TRADE,
    # What a section will do
    "timber_stock:bench": TRADE,
    "timber_stock:compare": TRADE,
    "timber_stock:board_heart": YARD,
    # The plan of a log
    "timber_stock:plans": TRADE,
    "timber_stock:plan_new": YARD,
    "timber_stock:plan_search": TRADE,
    "timber_stock:plan_stop": YARD,
    "timber_stock:plan": TRADE,
    "timber_stock:plan_by_hand": TRADE,
    "timber_stock:plan_judge": TRADE,
    "timber_stock:plan_keep": YARD,
    "timber_stock:saw_sheet": TRADE,
    "timber_stock:cut_done": YARD,
    "timber_stock:opened": YARD,
    "timber_stock:replan": YARD,
}

# Pages about one thing that a client may own: they see it only if it is theirs.
OWNED = {
    "restoration:vessel": Vessel,
    "restoration:vessel_picture": Vessel,
    "restoration:report_photograph": Report,
    "restoration:report": Report,
    "restoration:report_pdf": Report,
}


class AccessMiddleware:
    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        name = request.resolver_match.view_name
        if name in PUBLIC or request.resolver_match.app_name == "admin":
            return  # the admin asks for a staff sign-in itself
        if not request.user.is_authenticated:
            return  # LoginRequiredMiddleware sends them to the sign-in
        check(request.user, name, kwargs)


def check(user, name: str, kwargs: dict) -> None:
    if user.role not in ACCESS.get(name, set()):
        raise PermissionDenied
    owned = OWNED.get(name)
    if not owned or user.role != "client":
        return
    if not owned.objects.visible_to(user).filter(pk=kwargs["pk"]).exists():
        raise Http404
