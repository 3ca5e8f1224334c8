"""What a tutor types under a debrief."""

from __future__ import annotations

from django import forms


class CommentForm(forms.Form):
    """A comment, on the whole or on one entry of the sheet."""

    prefix = "comment"

    text = forms.CharField(
        label="Comment",
        help_text="The student reads it under the mark.",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    entry = forms.IntegerField(
        label="Entry", required=False, min_value=1, help_text="The number of a row of the sheet."
    )
    position = forms.CharField(widget=forms.HiddenInput, required=False)


class AdjustmentForm(forms.Form):
    """A total beside the computed mark."""

    prefix = "adjust"

    total = forms.FloatField(
        label="Total",
        min_value=0,
        max_value=100,
        help_text="From 0 to 100. The computed mark stays beside it.",
    )
    reason = forms.CharField(
        label="Reason", max_length=1000, widget=forms.Textarea(attrs={"rows": 2})
    )
    position = forms.CharField(widget=forms.HiddenInput, required=False)
