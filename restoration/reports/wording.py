"""What every survey report says in the same words: grading, limits, cautions, sign-off."""

from collections.abc import Mapping

from restoration.calc import grading, vocabulary
from restoration.reports.content import ClassWords, FixedWords

NOT_INCLUDED = (
    "Not included, unless the scope above asks for it: stability, machinery, electrical and gas "
    "installations, rig and sails, valuation."
)
# Each stands for a hazard a reader of the schedule may meet. Statements without a source are
# common practice, from memory; the two that rest on a publication name it.
CAUTIONS = (
    "This report is an account of what was seen and measured on the day by the methods named. It "
    "is not a design approval, a class or load line certificate, a certificate of seaworthiness "
    "or a valuation. Class rules, the rules of the flag and local codes go before it, and the "
    "structure is for a licensed surveyor or naval architect to judge.",
    "A wooden hull can fail while it looks good. A member marked “not examined” or “no finding "
    "recorded” is not thereby passed: nothing is known of it from this survey.",
    "Taking out planks, floors or bolts weakens the hull. Plan the shoring first, and do not open "
    "both sides, or neighbouring members, at once (common practice).",
    "What is said of usual remedies is a prompt, not an instruction. Washes, preservatives and "
    "resins can harm whoever uses them and the wood beside: the class rules, local codes, the "
    "makers' safety sheets and licensed practice come first (common practice).",
    "Keel bolts hold the ballast: their failure can free it and capsize the vessel. Bolts not "
    "drawn or otherwise tested are a hazard, not a pass. Support the ballast by itself before a "
    "nut is slackened, keep everybody out from under it, and refit one bolt before the next is "
    "drawn (common practice). Sizes and metals of bolts are for a competent person to check "
    "against the rules that apply.",
    "Wood dust harms the lungs, and hardwood dust can cause cancer of the nose (Health and Safety "
    "Executive, Wood dust). Extract it at the machine and do not sweep or blow it dry. Treat old "
    "paint, antifouling and preservatives as poisonous until they are tested (common practice). "
    "Local limits apply.",
    "Estimates of hours and cost are estimates, made from what could be seen; opening up commonly "
    "shows more (common practice).",
)
SIGN_OFF = (
    "The findings are the surveyor's opinion, formed from what could be seen and tested at the "
    "place and on the dates stated, within the limits stated."
)


def fixed_words() -> FixedWords:
    return FixedWords(
        conditions=_classes(grading.CONDITIONS),
        urgencies=_classes(grading.URGENCIES),
        measures=_classes(grading.MEASURES),
        grading_standing=grading.STANDING,
        causes_standing=vocabulary.CAUSES_STANDING,
        not_included=NOT_INCLUDED,
        cautions=CAUTIONS,
        sign_off=SIGN_OFF,
    )


def _classes(grades: Mapping) -> tuple[ClassWords, ...]:
    return tuple(ClassWords(str(code), g.label, g.meaning) for code, g in grades.items())
