from materials.models.catalog import Material, Price, Supplier, ToneGroup
from materials.models.orders import Order, OrderLine, Promise
from materials.models.stock import Delivery, DeliveryLine, Half, Lot, Sheet

__all__ = [
    "Delivery",
    "DeliveryLine",
    "Half",
    "Lot",
    "Material",
    "Order",
    "OrderLine",
    "Price",
    "Promise",
    "Sheet",
    "Supplier",
    "ToneGroup",
]
