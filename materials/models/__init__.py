from materials.models.bills import Bill, SheetReturn
from materials.models.catalog import Material, Price, Supplier, ToneGroup
from materials.models.orders import Order, OrderLine, OrderPayment, Promise, Sample
from materials.models.stock import (
    Delivery,
    DeliveryLine,
    DeliveryPhoto,
    Half,
    Lot,
    Sheet,
)

__all__ = [
    "Bill",
    "Delivery",
    "DeliveryLine",
    "DeliveryPhoto",
    "Half",
    "Lot",
    "Material",
    "Order",
    "OrderLine",
    "OrderPayment",
    "Price",
    "Promise",
    "Sample",
    "Sheet",
    "SheetReturn",
    "Supplier",
    "ToneGroup",
]
