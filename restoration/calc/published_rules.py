"""Which published rules bear on a kind of member or on a cause, and where their sources disagree.

The rules are those of `plank_rules` and `frame_rules`. Both sides of a disagreement are shown
with how each is known; neither is turned into a limit here.
"""

from restoration.calc import frame_rules, plank_rules
from restoration.calc.rule_check import Conflict, Rule
from restoration.calc.vocabulary import cause, member_kind, source

CAUTION = (
    "Prompts, not a specification: class rules, local codes and a naval architect come before "
    "them, and each was written for the craft its source names."
)
PLANKS = frozenset({"planking", "garboard", "broad_strake", "sheer_strake", "butt_block"})
FRAMES = frozenset(
    {"frame", "frame_steamed", "frame_sawn", "frame_laminated", "futtock", "sister_frame"}
)
UNDER_WATER = frozenset({"keel", "planking", "garboard", "broad_strake"})

SEASONING_UNDER_WATER = Conflict(
    "Whether keel and bottom planking are seasoned first",
    f"no seasoning is needed for service under water ({source('FPL1942').title}, Forest Products "
    "Laboratory, 1942; first page read)",
    "also planking under water is seasoned before it is worked "
    f"({source('FPL1606').title}, 1945; first page read)",
    "the later of the two; what a replacement goes in as is for whoever specifies it",
)
ISOLATED_STEEL = Conflict(
    "What an iron or steel fastening alone in wet wood makes",
    f"acid, in the crevice round the metal ({source('BAKER229').title}, 1974; abstract read)",
    "alkali, for want of oxygen (a writer on a boat-design forum; an opinion)",
    "neither without a test: take the pH of the wood beside the metal",
)
ANODES = Conflict(
    "Anodes and common bonding on a wooden hull",
    f"none of either ({source('NZ-EC').title}; {source('WW-EC').title}: practitioners' opinion)",
    "cathodic protection (a published standard exists; its table for wooden hulls was not read)",
    "neither: a metal driven far below its own potential turns the wood beside it to pulp",
)
_OF_CAUSES = {
    "FASTENER_IRON": (ISOLATED_STEEL,),
    "ACID_ANODE": (ISOLATED_STEEL,),
    "ALKALI_CATHODE": (ANODES, ISOLATED_STEEL),
    "GALVANIC_PAIR": (ANODES,),
    "STRAY_CURRENT": (ANODES,),
}


def rules_for(kind: str) -> tuple[Rule, ...]:
    """The published rules for this kind of member; ValueError for an unknown kind."""
    code = member_kind(kind).code
    return (plank_rules.RULES if code in PLANKS else ()) + (
        frame_rules.RULES if code in FRAMES else ()
    )


def conflicts_for(kind: str) -> tuple[Conflict, ...]:
    """Where sources differ on this kind of member; ValueError for an unknown kind."""
    code = member_kind(kind).code
    return (
        (plank_rules.CONFLICTS if code in PLANKS else ())
        + (frame_rules.CONFLICTS if code in FRAMES else ())
        + ((SEASONING_UNDER_WATER,) if code in UNDER_WATER else ())
    )


def conflicts_on(code: str) -> tuple[Conflict, ...]:
    """Where sources differ on what makes this cause or mends it; ValueError for an unknown one."""
    return _OF_CAUSES.get(cause(code).code, ())
