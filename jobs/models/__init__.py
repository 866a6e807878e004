from jobs.models.job import Client, Drawing, Given, Job, LineShare, LotShare, Need, Revision, Room
from jobs.models.stages import Hours, RoomStage, Stage

__all__ = [
    "Client",
    "Drawing",
    "Given",
    "Hours",
    "Job",
    "LineShare",
    "LotShare",
    "Need",
    "Revision",
    "Room",
    "RoomStage",
    "Stage",
]
