"""Patterns out of DXF drawings and into them, through ezdxf."""
