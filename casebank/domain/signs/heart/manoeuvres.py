"""What posture, breathing and effort do to each component, in dB, and to the click's time.

Owns one table. Sizes are chosen; the directions are those of Lembo 1988 and a standard manual
(see the reference's section 2.4). Four decibels or more are meant to be noticed. Breathing acts
through the lung volume, so that the change is heard within one clip of quiet breathing.
"""

from __future__ import annotations

from casebank.domain.signs.heart.murmurs import KINDS
from casebank.domain.signs.setting import Setting
from casebank.domain.signs.spec import Lesion

GROUPS = (
    "right", "aortic-stenosis", "outflow-obstruction", "mitral-regurgitation", "mitral-prolapse",
    "ventricular-septal-defect", "aortic-regurgitation", "mitral-stenosis", "filling", "innocent",
    "patent-duct", "venous-hum", "rub",
)  # fmt: skip

# dB at lung volume 1 (a full breath in); -0.6 is a full breath out.
BY_VOLUME = (5, -2, -2, -2, 1, -2, -2, -2, -2, -2, -1, 1, 2)

TABLE: dict[str, tuple[float, ...]] = {
    "left-lateral": (0, 0, 0, 3, 2, 0, 0, 7, 6, 0, 0, 0, 0),
    "sitting": (0, 0, 0, 0, 0, 0, 1, 0, -1, 0, 0, 4, 2),
    "sitting-forward": (-1, 0, 0, 0, 0, 0, 5.5, 0, -1, 0, 0, 4, 5),
    "squatting": (2, 2, -7, 3, -4, 3, 4, 1.5, 0, 0, 0, 0, 0),
    "standing": (-3, -3, 6, -3, 3, -2, -3, -2, -1, -5, -2, 2, 0),
    "valsalva": (-7, -6, 6, -5, 4, -4, -4, -4, -2, -8, -4, -20, 0),
    "handgrip": (0, -3, -4, 4, 2, 4, 4, 3, 2, 0, 2, 0, 0),
    "legs-raised": (4, 2, -6, 1, -3, 0, 0, 0, 0, 3, 0, -4, 0),
    "supine": (0, 0, 0, 0, 0, 0, -1, 0, 0, 0, 0, -16, 0),
}

# The technique that brings the murmur out best; the grade is what is heard then.
BEST = {"mitral-stenosis": 7.0, "aortic-regurgitation": 6.7, "tricuspid-regurgitation": 1.5,
        "tricuspid-stenosis": 1.5, "venous-hum": 4.0, "rub": 5.0}  # fmt: skip

CLICK = {"standing": 0.38, "valsalva": 0.38, "squatting": 0.72, "legs-raised": 0.65}

GROUP_OF = {
    "third-sound": "filling", "fourth-sound": "filling", "right-third-sound": "filling",
    "right-fourth-sound": "filling", "rub": "rub",
}  # fmt: skip
# dB at lung volume 1 for the sounds that stand outside the groups.
VOLUME_OF = {
    "right-third-sound": 4.0, "right-fourth-sound": 4.0, "p2": 1.0, "t1": 1.0, "m1": -1.0,
    "a2": -1.0, "opening-snap": -1.0, "knock": 0.0,
}  # fmt: skip


def group_of(component: str) -> str | None:
    """The row of manoeuvres a component follows, if it has one."""
    if component in KINDS:
        return KINDS[component].group
    return GROUP_OF.get(component)


def posed_db(component: str, setting: Setting, unmoved: tuple[str, ...] = ()) -> float:
    """Change in dB by posture, effort and straining, without breathing."""
    group = group_of(component)
    if group is None:
        return 0.0
    column = GROUPS.index(group)
    slots = {setting.posture, setting.effort, setting.breathing} - set(unmoved)
    return sum(TABLE[slot][column] for slot in sorted(slots) if slot in TABLE)


def volume_db(component: str) -> float:
    """Change in dB for a lung volume of 1."""
    if component in VOLUME_OF:
        return VOLUME_OF[component]
    group = group_of(component)
    return 0.0 if group is None else float(BY_VOLUME[GROUPS.index(group)])


def most_db(component: str) -> float:
    """The most that any technique adds."""
    group = group_of(component)
    posed = 0.0 if group is None else max(row[GROUPS.index(group)] for row in TABLE.values())
    by_volume = volume_db(component)
    return max(posed, 0.0) + max(by_volume, -0.6 * by_volume)


def click_place(setting: Setting, lesions: tuple[Lesion, ...]) -> float:
    """Where the mid-systolic click falls, as a share of systole: earlier in a small ventricle."""
    unmoved = {slot for lesion in lesions for slot in lesion.unmoved}
    for slot in (setting.breathing, setting.posture):
        if slot in CLICK and slot not in unmoved:
            return CLICK[slot]
    return 0.55
