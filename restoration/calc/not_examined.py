"""Common reasons why a member could not be examined, short enough to be tapped."""

STANDING = (
    "Common practice: short reasons in general use, from memory. Write another where none fits."
)
REASONS = (
    "Behind fixed joinery",
    "Under a tank",
    "Under the engine",
    "Under ballast",
    "Under water in the bilge",
    "Sheathed or heavily painted",
    "Not opened up, by agreement",
)
