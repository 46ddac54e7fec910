"""What a refused form says when the framework speaks: plain words that tell what to do."""

from pathlib import Path

import pytest
from django import forms
from django.conf import settings
from django.core.validators import MaxLengthValidator, MinValueValidator
from django.urls import reverse

FOLDER = Path(settings.LOCALE_PATHS[0]) / "en_GB" / "LC_MESSAGES"


def said(field, value):
    with pytest.raises(forms.ValidationError) as refused:
        field.clean(value)
    return refused.value.messages


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        (forms.CharField(), "", "Fill this in: it is needed."),
        (forms.FloatField(), "a lot", "Write a number, such as 12 or 2.5."),
        (forms.FloatField(validators=[MinValueValidator(0)]), "-1", "Give 0 or more."),
        (forms.FloatField(max_value=30), "31", "Give 30 or less."),
        (
            forms.CharField(validators=[MaxLengthValidator(3)]),
            "plank",
            "Shorten this to 3 characters; it has 5.",
        ),
        (
            forms.ChoiceField(choices=[("a", "a")]),
            "b",
            "Choose one of those listed: “b” is not among them.",
        ),
    ],
)
def test_a_refusal_says_in_one_sentence_what_to_do(field, value, sentence):
    assert said(field, value) == [sentence]


def test_a_wrong_password_is_refused_in_plain_words(client, people):
    page = client.post(reverse("sign_in"), {"username": "nobody", "password": "guess"})
    assert "This name and password do not go together." in page.content.decode()


def test_every_sentence_that_is_written_is_the_one_that_is_used():
    """The compiled file is what is read: it must be made anew after a change of the other."""
    written = (FOLDER / "django.po").read_text().split("\n\n", 1)[1]
    compiled = (FOLDER / "django.mo").read_bytes().decode(errors="replace")
    ours = [
        line.split(" ", 1)[1].strip('"') for line in written.splitlines() if line[:6] == "msgstr"
    ]
    assert len(ours) > 20
    assert [sentence for sentence in ours if sentence not in compiled] == []
