from jobs.models.job import Client, Drawing, Given, Job, LineShare, LotShare, Need, Revision, Room
from jobs.models.stages import Hours, RoomStage, Stage
from jobs.models.surfaces import Cutout, Edge, Measure, Opening, Surface

__all__ = [
    "Client",
    "Cutout",
    "Drawing",
    "Edge",
    "Given",
    "Hours",
    "Job",
    "LineShare",
    "LotShare",
    "Measure",
    "Need",
    "Opening",
    "Revision",
    "Room",
    "RoomStage",
    "Stage",
    "Surface",
]
