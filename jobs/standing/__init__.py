"""How jobs and rooms stand, and what comes next in them. Reads only."""

from jobs.standing.figures import (
    JobStanding,
    NeedRow,
    Next,
    RoomStanding,
    Tone,
    hours_words,
    sheets,
    stage_words,
)
from jobs.standing.job_list import JobRow, job_rows, jobs_found
from jobs.standing.rooms import needs_of, of_job, of_room

__all__ = [
    "JobRow",
    "JobStanding",
    "NeedRow",
    "Next",
    "RoomStanding",
    "Tone",
    "hours_words",
    "job_rows",
    "jobs_found",
    "needs_of",
    "of_job",
    "of_room",
    "sheets",
    "stage_words",
]
