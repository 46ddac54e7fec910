"""The fastening samples of a survey, from rows to plain facts."""

from django.utils import timezone

from restoration.calc import sampling
from restoration.calc.sample_result import STATES
from restoration.drawings.sample_picture import counts
from restoration.models import FasteningSample, Survey
from restoration.reports.sample_facts import SampleDrawn, SampleMark


def samples_drawn(survey: Survey) -> tuple[SampleDrawn, ...]:
    return tuple(_drawn(sample) for sample in survey.samples.select_related("made_by"))


def _drawn(sample: FasteningSample) -> SampleDrawn:
    outcome = sample.outcome()
    return SampleDrawn(
        what=sample.what,
        zone=sample.get_zone_display(),
        sentence=outcome.sentence,
        marks=tuple(
            SampleMark(state, STATES[state], count) for state, count in counts(outcome) if count
        ),
        confidence_percent=float(sample.confidence_percent),
        bad_means=sample.bad_means,
        counted=sample.counted,
        seed=sample.seed,
        drawn_on=timezone.localdate(sample.made_at),
        drawn_by=sample.made_by.full_name(),
        caution=sampling.CAUTION,
    )
