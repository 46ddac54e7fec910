"""Names of places in a report that other places lead to: the same on paper and on screen."""


def finding_key(mark: str) -> str:
    return f"finding_{mark.upper()}"


def condition_key(mark: str) -> str:
    return f"condition_{mark.upper()}"


def schedule_key(mark: str) -> str:
    return f"schedule_{mark.upper()}"


def thread_key(mark: str) -> str:
    return f"thread_{mark.upper()}"
