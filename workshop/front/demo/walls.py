"""Walls of the demo's rooms, drawn from the architect's sizes; one is measured, one released by name."""

from collections.abc import Iterator

from jobs import drawing_list
from jobs.models import Cutout, Opening, Surface
from jobs.surfaces import holes, writing
from workshop.calculations.lengths import read_length
from workshop.front.demo.setting import Setting, Step, material_of, now, room_of

PANELED = {"module_nm": "24", "reveal_nm": "3/16", "least_nm": "6", "battens_nm": "3/4", "batten_spacing_nm": "24"}
SHAPES = {"right": "right_height_nm", "ridge": "ridge_height_nm", "cross": "cross_joint_nm"}


def steps(setting: Setting) -> Iterator[Step]:
    for row in setting.scenario["walls"]:
        yield Step(row["day"], lambda row=row: _draw(setting, row))
        if "measured" in row:
            yield Step(row["measured"]["day"], lambda row=row: _measure(setting, row))
        if "released" in row:
            yield Step(row["released"], lambda row=row: writing.release(surface=_wall(row), by=setting.by()))


def _draw(setting: Setting, row: dict) -> None:
    room = room_of(row["room"])
    sizes = {name: nm(text) for name, text in PANELED.items()}
    sizes |= {name: nm(row[key]) for key, name in SHAPES.items() if key in row}
    surface = writing.add(
        room=room,
        by=setting.by(),
        name=row["name"],
        shape=Surface.Shape.GABLED if "ridge" in row else Surface.Shape.RECTANGLE,
        width_nm=nm(row["width"]),
        height_nm=nm(row["height"]),
        material=material_of("Ash-veneered plywood"),
        revision=drawing_list.latest(room.job),
        **sizes,
    )
    for kind, left, foot, width, height in row.get("openings", []):
        place = {"left_nm": nm(left), "foot_nm": nm(foot), "width_nm": nm(width), "height_nm": nm(height)}
        holes.add(surface=surface, model=Opening, by=setting.by(), kind=kind, **place)
    for center, above, width, height, depth in row.get("boxes", []):
        place = {"center_nm": nm(center), "center_height_nm": nm(above), "width_nm": nm(width)}
        place |= {"height_nm": nm(height), "depth_nm": nm(depth)}
        holes.add(surface=surface, model=Cutout, by=setting.by(), kind="box", **place)


def _measure(setting: Setting, row: dict) -> None:
    sizes = {f"{name}_nm": nm(text) for name, text in row["measured"].items() if name != "day"}
    writing.measure(surface=_wall(row), by=setting.by("ari"), measured_on=now(), **sizes)


def _wall(row: dict) -> Surface:
    return Surface.objects.select_related("room__job").get(room=room_of(row["room"]), name=row["name"])


def nm(text: str) -> int:
    return 0 if text == "0" else read_length(text)
