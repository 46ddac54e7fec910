"""What the form of a finding says of its own words: the same with a signal and without."""

from restoration.actions.findings import MOST_PHOTOGRAPHS
from restoration.calc import grading, not_examined, usual_causes, vocabulary
from timber_stock.web import pictures

STEPPERS = [(-10, "much less"), (-1, "less"), (1, "more"), (10, "much more")]


def words() -> dict:
    """What the classes mean and how the causes are told apart, with how each is known."""
    return {
        "meanings": [
            ("Condition", grading.CONDITIONS.items()),
            ("Urgency", grading.URGENCIES.items()),
            ("Recommended measure", grading.MEASURES.items()),
        ],
        "standing": grading.STANDING,
        "causes": [
            (cause, f"Main sign or remedy {how_known(cause)}.")
            for cause in vocabulary.causes().values()
        ],
        "causes_standing": vocabulary.CAUSES_STANDING,
        "chips_standing": usual_causes.STANDING,
        "steppers": STEPPERS,
        "reasons": not_examined.REASONS,
        "reasons_standing": not_examined.STANDING,
    }


def how_known(entry) -> str:
    titles = "; ".join(vocabulary.source(code).title for code in entry.sources)
    return f"{vocabulary.EVIDENCE[entry.evidence]}: {titles}"


def photograph_limits() -> dict:
    return {
        "most_photographs": MOST_PHOTOGRAPHS,
        "largest_mb": pictures.LARGEST_FILE_MB,
        "accepted": pictures.ACCEPTED,
    }
