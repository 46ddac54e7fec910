"""Times taken one after another, and what is said of them."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Times:
    """Milliseconds of each time by the clock, in the order they were taken, and of the processor.

    On a busy machine the clock runs on while others are served; the processor's own time does not.
    """

    taken: tuple[float, ...]
    worked: tuple[float, ...]

    @property
    def median(self) -> float:
        return median(self.taken)

    def at_share(self, share: float) -> float:
        """The time that this share of them does not exceed."""
        ordered = sorted(self.taken)
        return ordered[min(len(ordered) - 1, int(share * len(ordered)))]

    def said(self, what: str) -> str:
        return (
            f"{what}: median {self.median:.1f} ms, 95 in a hundred within "
            f"{self.at_share(0.95):.1f} ms, longest {max(self.taken):.1f} ms "
            f"({len(self.taken)} times); of the processor, median {median(self.worked):.1f} ms"
        )


def measured(run: Callable[[int], object], times: int) -> Times:
    """`run` is told the number of each time, so that no two need be alike."""
    taken, worked = [], []
    for n in range(times):
        start, began = time.perf_counter(), time.process_time()
        run(n)
        worked.append(1000 * (time.process_time() - began))
        taken.append(1000 * (time.perf_counter() - start))
    return Times(tuple(taken), tuple(worked))
