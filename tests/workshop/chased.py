"""What others owe the shop an answer, a truck or a credit for."""

from datetime import date

from materials.models import DeliveryLine, Sample, SheetReturn
from tests.makers import make_delivery, make_lot, make_material, make_sheets

DAY = date(2026, 11, 16)


def make_sample(**fields: object) -> Sample:
    material = fields.pop("material", None) or make_material()
    values = {"what": "Finish panel, satin", "sent_to": "Example Architects", "sent_on": DAY, **fields}
    return Sample.objects.create(material=material, **values)


def make_return(**fields: object) -> SheetReturn:
    """A sheet of a counted delivery that goes back, 71.50 of credit expected unless told."""
    lot = fields.pop("lot", None) or make_lot()
    if not hasattr(lot, "delivery_line"):
        delivery = make_delivery(counted_on=DAY)
        DeliveryLine.objects.create(delivery=delivery, material=lot.material, kept_micro=0, price_micro=0, lot=lot)
    (sheet,) = make_sheets(lot, 1, set_aside_on=DAY, left_on=fields.get("collected_on"))
    values = {"why": "Veneer loose", "asked_on": DAY, "credit_expected_minor": 7_150, **fields}
    return SheetReturn.objects.create(sheet=sheet, **values)
