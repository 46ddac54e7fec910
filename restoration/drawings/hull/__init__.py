"""The hull sheet: members to shapes in hull millimetres, to a sheet in paper millimetres, to SVG.

`pieces` says what is drawn; `grid` is the hull's curves to look up; `profile`, `deck` and `bottom`
shape each kind of member in its view; `sheet` lays the views, marks and title block out on A3 as
plain data (`marks_on_paper`); `svg` writes it. Another writer, for PDF say, needs only the last.
"""
