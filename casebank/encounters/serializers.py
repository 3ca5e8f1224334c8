"""The shapes the student's API takes and gives."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

S = serializers


class BeginIn(S.Serializer[Any]):
    """Which patient to examine."""

    case = S.UUIDField(help_text="An id from the list of patients.")
    cued = S.BooleanField(default=True)


class RequestIn(S.Serializer[Any]):
    """What is done: ``text`` in own words, or ``step`` with ``technique``."""

    text = S.CharField(required=False, allow_blank=True, max_length=300)
    step = S.SlugField(required=False)
    technique = S.DictField(child=S.CharField(max_length=64), required=False)
    everything = S.BooleanField(
        default=False, help_text="Do all parts of a request that is several steps."
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        """One way or the other, never both."""
        if bool(attrs.get("text")) == bool(attrs.get("step")):
            raise S.ValidationError("Send either text, or step with technique.")
        return attrs


class ProbabilitiesIn(S.Serializer[Any]):
    """Diagnosis slug to probability, 0 to 1, adding up to 1 at most."""

    probabilities = S.DictField(child=S.FloatField(min_value=0, max_value=1), allow_empty=False)


class ReadingIn(S.Serializer[Any]):
    """What a sound, trace or picture is said to be: ``medium`` counts those of the ``entry``."""

    entry = S.IntegerField(min_value=1, help_text="Log position of the request that gave it.")
    medium = S.IntegerField(min_value=0, default=0)
    text = S.CharField(max_length=300)


class ConclusionIn(ProbabilitiesIn):
    """The final differential with its summary and plan."""

    summary = S.CharField(max_length=4000)
    plan = S.CharField(max_length=4000, required=False, allow_blank=True, default="")


class PatientOut(S.Serializer[Any]):
    """A patient there is to examine."""

    case = S.UUIDField(source="version_id")
    title = S.CharField()
    name = S.CharField()
    age = S.IntegerField()
    sex = S.CharField()
    open_encounter = S.UUIDField(allow_null=True)
    concluded = S.ListField(child=S.UUIDField())


class ChipOut(S.Serializer[Any]):
    """One slot of the technique, read back."""

    slot = S.CharField()
    value = S.CharField()
    label = S.CharField()  # type: ignore[assignment]  # a field called label
    said = S.BooleanField()


class ChargeOut(S.Serializer[Any]):
    """What it cost and why; ``information`` in bits where it set the price."""

    minutes = S.FloatField()
    surcharge = S.FloatField()
    reason = S.ChoiceField(choices=["due", "repeat", "unneeded", "unsafe"])
    words = S.CharField()
    information = S.FloatField(allow_null=True)


class MediumOut(S.Serializer[Any]):
    """Something to hear or see, with the student's own reading of it."""

    index = S.IntegerField()
    kind = S.ChoiceField(choices=["sound", "trace", "picture"])
    addresses = S.ListField(child=S.CharField(), help_text="The same in several file types.")
    renditions = S.DictField(
        child=S.ListField(child=S.CharField()),
        help_text="A sound in other forms: raised (in pitch, not as heard at the bedside), slow "
        "(half speed, pitch kept), raised-slow; each in several file types. Empty for others.",
    )
    alternative = S.CharField(help_text="The same in words that do not name it.")
    reading = S.CharField(help_text="What the student said it is; empty if nothing yet.")
    understood = S.ListField(child=S.CharField())


class EntryOut(S.Serializer[Any]):
    """A log entry as the student sees it; the fields of its kind are present."""

    seq = S.IntegerField()
    kind = S.ChoiceField(choices=["request", "differential", "reading", "conclusion"])
    minute = S.FloatField()
    text = S.CharField(required=False)
    step = S.SlugField(required=False)
    label = S.CharField(required=False)  # type: ignore[assignment]  # a field called label
    technique = ChipOut(many=True, required=False)
    shown = S.ListField(child=S.CharField(), required=False)
    notice = S.CharField(required=False)
    charge = ChargeOut(required=False)
    flags = S.ListField(child=S.CharField(), required=False)
    media = MediumOut(many=True, required=False)
    entry = S.IntegerField(required=False, help_text="Of a reading: the entry it names.")
    medium = S.IntegerField(required=False)
    understood = S.ListField(child=S.CharField(), required=False)
    unused = S.ListField(child=S.CharField(), required=False)
    probabilities = S.DictField(child=S.FloatField(), required=False)
    summary = S.CharField(required=False)
    plan = S.CharField(required=False)


class EncounterOut(S.Serializer[Any]):
    """An encounter with its log."""

    id = S.UUIDField()
    patient = S.DictField()
    opening = S.CharField()
    minutes = S.FloatField()
    surcharge = S.FloatField()
    concluded = S.BooleanField()
    position = S.IntegerField()
    entries = EntryOut(many=True)
    caution = S.CharField()


class MadeOut(S.Serializer[Any]):
    """The entries a request made, and the totals after them."""

    entries = EntryOut(many=True)
    minutes = S.FloatField()
    surcharge = S.FloatField()
    position = S.IntegerField()


class DebriefOut(S.Serializer[Any]):
    """Marks and what was behind them."""

    total = S.FloatField()
    capped_at = S.FloatField(allow_null=True)
    marking_version = S.IntegerField()
    truth = S.ListField(child=S.CharField())
    domains = S.ListField(child=S.DictField())
    differential = S.ListField(child=S.DictField())
    missed = S.ListField(child=S.DictField())
    strength = S.CharField()
    practise = S.CharField()
    technique = S.ListField(
        child=S.DictField(),
        help_text="The technique used beside the deciding one; where a sign is heard or seen, "
        "`given` is what it gave and `sign.medium` what the deciding technique gives.",
    )
    surcharges = S.ListField(child=S.DictField())
    order = S.ListField(child=S.DictField())
    evidence = S.ListField(child=S.DictField())
    next_steps = S.ListField(child=S.DictField())
    without_interval = S.ListField(
        child=S.CharField(),
        help_text="Findings that counted with numbers taken as exact: no interval is known.",
    )
    presentation = S.CharField(
        help_text="Whom the percentages before the examination are of; empty if not said."
    )
    together = S.ListField(
        child=S.CharField(), help_text="Diagnoses that may be had at once; they share a percentage."
    )
    steps = S.DictField(
        help_text="Stated beside supported, in per cent, at each entry that moved either."
    )
    hypotheses = S.ListField(child=S.CharField())
    trajectory = S.ListField(child=S.DictField())
    comments = S.ListField(child=S.DictField())
    adjustments = S.ListField(child=S.DictField())
    teaching = S.DictField()
    entries = EntryOut(many=True)
    caution = S.CharField()
