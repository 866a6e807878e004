from tests.workshop.long_work import do

__all__ = ["do"]
