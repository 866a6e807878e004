from workshop.models.action import Action, ActionAbout
from workshop.models.people import Person
from workshop.models.photo import Photo
from workshop.models.shop import Shop
from workshop.models.work import Work

__all__ = ["Action", "ActionAbout", "Person", "Photo", "Shop", "Work"]
