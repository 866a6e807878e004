"""The one place where a calculation may look at a clock: how much of its time box is left."""

from time import monotonic


class Deadline:
    """A time box that begins when it is made.

    Example: a search stops where `Deadline(10).passed` turns true.
    """

    def __init__(self, seconds: float) -> None:
        self._begins = monotonic()
        self._seconds = seconds

    @property
    def used(self) -> float:
        """Seconds since it began."""
        return monotonic() - self._begins

    @property
    def left(self) -> float:
        """Seconds until it ends, 0 once it has."""
        return max(0.0, self._seconds - self.used)

    @property
    def passed(self) -> bool:
        return self.used >= self._seconds
