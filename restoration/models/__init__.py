from .allotment import Allotment
from .client import Client
from .cost import Cost, CostKind
from .fastening_plan import FasteningPlan, PlannedFastening, PlannedHole
from .fastening_sample import FasteningSample
from .finding import Finding, FindingCause, Photograph, Reading
from .hull_lines import HullLines
from .label_sheet import LabelSheet
from .member import Fastening, Joint, Member
from .nesting import LaidPiece, Layout
from .paper_job import PaperJob
from .pattern import Pattern
from .pattern_drawing import PatternDrawing
from .pattern_photograph import PatternPhotograph
from .photograph_mark import PhotographMark
from .replacement import ReplacementSpec
from .report import Report
from .report_link import ReportLink, ReportOpening
from .retighten import RetightenTask
from .sign_in_failure import SignInFailure
from .survey import Survey
from .turn import OrderState, RuleKind, Turn, TurnMember, TurnRule, WorkOrder
from .user import User
from .vessel import Vessel
from .vessel_picture import VesselPicture
from .wanted_timber import WantedTimber
from .work import Work, WorkPlan, WorkStep, WorkWait
from .yard import CostBy, Yard

__all__ = [
    "Allotment",
    "Client",
    "Cost",
    "CostBy",
    "CostKind",
    "Fastening",
    "FasteningPlan",
    "FasteningSample",
    "Finding",
    "FindingCause",
    "HullLines",
    "Joint",
    "LabelSheet",
    "LaidPiece",
    "Layout",
    "Member",
    "OrderState",
    "PaperJob",
    "Pattern",
    "PatternDrawing",
    "PatternPhotograph",
    "Photograph",
    "PhotographMark",
    "PlannedFastening",
    "PlannedHole",
    "Reading",
    "ReplacementSpec",
    "Report",
    "ReportLink",
    "ReportOpening",
    "RetightenTask",
    "RuleKind",
    "SignInFailure",
    "Survey",
    "Turn",
    "TurnMember",
    "TurnRule",
    "User",
    "Vessel",
    "VesselPicture",
    "WantedTimber",
    "Work",
    "WorkOrder",
    "WorkPlan",
    "WorkStep",
    "WorkWait",
    "Yard",
]
