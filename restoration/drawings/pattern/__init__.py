"""The drawing of a pattern: plain shapes in mm of paper, as SVG on screen and on paper alike."""
