"""How many fastenings to draw, and from where."""

import re
import secrets
from fractions import Fraction

from django import forms

from restoration.calc import sampling
from restoration.models import FasteningSample
from timber_stock.web.forms import PlainForm

MOST_STATIONS = 200
_STATION = re.compile(r"\s*([^:=]{1,20}?)\s*[:=]\s*(\d{1,6})\s*")
KEPT = ("what", "zone", "counted", "bad_means", "tolerated", "confidence_percent", "seed")


class SampleForm(PlainForm):
    what = forms.CharField(
        label="Which fastenings",
        max_length=200,
        help_text="One group of the same metal, age and place, hidden ones in it: plank screws of "
        "the garboards, port.",
    )
    zone = forms.ChoiceField(
        label="Sampling zone",
        choices=[("", "–"), *((zone, zone) for zone in sampling.ZONES)],
        required=False,
    )
    population = forms.IntegerField(
        label="How many there are", min_value=1, max_value=sampling.LARGEST_POPULATION
    )
    stations = forms.CharField(
        label="How many at each station",
        required=False,
        max_length=4_000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Station and number, such as 4: 12, 5: 12, 6: 9. Left empty, the lot is drawn "
        "from the whole group.",
    )
    tolerated = forms.IntegerField(
        label="Bad ones you could live with", min_value=0, initial=0, required=False,
        help_text="With none bad in the sample, no more than so many are bad in the whole group.",
    )  # fmt: skip
    confidence_percent = forms.DecimalField(
        label="How sure, %", initial=95, min_value=1, max_value=99.99,
        max_digits=4, decimal_places=2,
    )  # fmt: skip
    count = forms.IntegerField(
        label="How many to draw", min_value=1, required=False,
        help_text="Left empty, it is worked out from the two figures above.",
    )  # fmt: skip
    bad_means = forms.CharField(
        label="What counts as bad",
        max_length=300,
        help_text="Say it before the first is drawn: thinner than 0.8 of its diameter, say (64 % "
        "of its strength in tension), or a pink scratch.",
    )
    counted = forms.CharField(
        label="How they are counted",
        max_length=200,
        initial="at each station from the keel upwards, forward one first",
        help_text="So that number 7 of station 4 is the same one for everybody.",
    )
    seed = forms.CharField(
        label="Seed of the drawing", max_length=40, required=False,
        help_text="Any words; printed with the result, so that anyone can draw it again. Left "
        "empty, one is made.",
    )  # fmt: skip

    def clean_stations(self) -> list[tuple[str, int]]:
        parts = [
            part for part in re.split(r"[,;\n]+", self.cleaned_data["stations"]) if part.strip()
        ]
        found = [_STATION.fullmatch(part) for part in parts]
        for part, match in zip(parts, found, strict=True):
            if not match:
                raise forms.ValidationError(
                    f"“{part.strip()}” is no station with its number; write it as 4: 12."
                )
        pairs = [(match[1], int(match[2])) for match in found]
        if len(pairs) > MOST_STATIONS:
            raise forms.ValidationError(f"No more than {MOST_STATIONS} stations can be given.")
        if len({station for station, _ in pairs}) < len(pairs):
            raise forms.ValidationError("A station is given twice: put its numbers together.")
        return pairs

    def clean(self):
        typed = super().clean()
        population, stations = typed.get("population"), typed.get("stations")
        if population and stations:
            total = sum(held for _, held in stations)
            if total != population:
                self.add_error(
                    "stations",
                    f"The stations hold {total} together, and there are {population} of them.",
                )
        if population and not self.errors:
            self._work_out_the_count(typed, population)
        return typed

    def _work_out_the_count(self, typed: dict, population: int) -> None:
        typed["tolerated"] = typed["tolerated"] or 0
        if typed["tolerated"] > population:
            self.add_error(
                "tolerated",
                f"{typed['tolerated']} bad ones cannot be tolerated in a group of {population}.",
            )
        elif typed["count"] is None:
            sure = Fraction(typed["confidence_percent"]) / 100
            typed["count"] = sampling.sample_size(population, typed["tolerated"], sure)
            if typed["count"] == 0:
                self.add_error("tolerated", "If all may be bad there is nothing to draw.")
        elif typed["count"] > population:
            self.add_error(
                "count", f"{typed['count']} cannot be drawn from a group of {population}."
            )

    def stations_drawn_from(self) -> list[tuple[str, int]]:
        return self.cleaned_data["stations"] or [("", self.cleaned_data["population"])]

    def sample(self, **of) -> FasteningSample:
        said = {name: self.cleaned_data[name] for name in KEPT}
        said["seed"] = said["seed"] or secrets.token_hex(4)
        return FasteningSample(**said, **of)

    def promise(self) -> str:
        """What the sample would show if none of it were bad."""
        drawn, population = self.cleaned_data["count"], self.cleaned_data["population"]
        percent = self.cleaned_data["confidence_percent"]
        most = sampling.most_defective(population, drawn, 0, Fraction(percent) / 100)
        return (
            f"Draw {drawn} of {population}. If none of them is bad, you are {percent.normalize():f}"
            f" % sure that no more than {most} of the {population} are bad."
        )
