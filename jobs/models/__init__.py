from jobs.models.job import Client, Given, Job, LotShare, Need, Room
from jobs.models.stages import Hours, RoomStage, Stage

__all__ = ["Client", "Given", "Hours", "Job", "LotShare", "Need", "Room", "RoomStage", "Stage"]
