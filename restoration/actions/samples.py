"""Drawing fastenings by lot, and entering what each was found to be."""

from collections.abc import Mapping, Sequence

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.calc import random_sample, sample_result
from restoration.models import FasteningSample

MOST_DRAWN = 400


def draw_sample(
    *, sample: FasteningSample, stations: Sequence[tuple[str, int]], count: int
) -> FasteningSample:
    """Choose by lot from the stations, with the sample's own seed, and keep what was chosen.

    stations: names with how many each holds; "" where the group is not told apart by station.
    """
    if count > MOST_DRAWN:
        raise ValidationError(
            f"{count} are too many to enter here; the most is {MOST_DRAWN}. Split the group by "
            "metal, age or place, and sample each part by itself."
        )
    group = [
        random_sample.Fastening(f"{station}-{number}" if station else f"{number}", station)
        for station, held in stations
        for number in range(1, held + 1)
    ]
    try:
        chosen = random_sample.draw(group, count, sample.seed)
    except ValueError as error:
        raise ValidationError(str(error)) from error
    sample.population = len(group)
    sample.stations = [list(station) for station in stations]
    sample.drawn = [{"mark": one.mark, "station": one.station, "result": ""} for one in chosen]
    sample.full_clean()
    sample.save()
    return sample


def enter_results(*, sample_id: int, results: Mapping[str, str]) -> FasteningSample:
    """Keep the results given by mark, "" for none yet; the other marks stay as they are."""
    with transaction.atomic():
        sample = FasteningSample.objects.select_for_update().get(pk=sample_id)
        for one in sample.drawn:
            result = results.get(one["mark"], one["result"])
            if result and result not in sample_result.RESULTS:
                raise ValidationError(f"“{result}” is no result for {one['mark']}.")
            one["result"] = result
        sample.full_clean()
        sample.save()
    return sample
