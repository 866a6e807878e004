"""Several at once, each with a connection of its own, begun in the same moment."""

import threading
from collections.abc import Callable

from django.db import connections


def at_once(do: Callable[[], object], times: int = 8) -> list[object]:
    """What each of them got: what `do` gave back, or the exception it ended with."""
    begin = threading.Barrier(times)
    got: list[object] = []

    def one() -> None:
        try:
            begin.wait(20)
            got.append(do())
        except Exception as error:
            got.append(error)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=one) for _number in range(times)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return got
