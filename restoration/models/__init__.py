from .allotment import Allotment
from .client import Client
from .finding import Finding, FindingCause, Photograph, Reading
from .member import Fastening, Joint, Member
from .replacement import ReplacementSpec
from .report import Report
from .survey import Survey
from .user import User
from .vessel import Vessel
from .yard import Yard

__all__ = [
    "Allotment",
    "Client",
    "Fastening",
    "Finding",
    "FindingCause",
    "Joint",
    "Member",
    "Photograph",
    "Reading",
    "ReplacementSpec",
    "Report",
    "Survey",
    "User",
    "Vessel",
    "Yard",
]
