"""What was last reckoned of the log to ask a mill for, so that it can be printed at any time."""

from django.db import models
from django.utils import timezone

from timber_stock.sawing.log_wanted import Sought
from timber_stock.sawing.request import Saw

from .cutting_list import CuttingList
from .plan_request import timber_as_asked


class LogReckoning(models.Model):
    """The answer for one cutting list, with all it was reckoned from. Reckoned again, it is
    replaced; a list that has changed since is told from `asked`."""

    cutting_list = models.OneToOneField(CuttingList, models.CASCADE, related_name="reckoning")
    asked = models.JSONField()
    said = models.JSONField()
    found = models.JSONField()
    reckoned_at = models.DateTimeField(default=timezone.now)

    def __str__(self):
        return f"Log wanted for {self.cutting_list}"

    def is_of(self, items) -> bool:
        """Whether the list still asks for what this was reckoned for."""
        return self.asked == as_asked(items)

    def sought(self) -> list[Sought]:
        return [Sought(**row) for row in self.found]

    def saw(self) -> Saw:
        return Saw(self.said["kerf_mm"], self.said["crosscut_kerf_mm"])


def as_asked(items) -> list[dict]:
    """The lines as the planner is asked for them, plain enough to be kept and compared."""
    return [timber_as_asked(item) for item in items]
