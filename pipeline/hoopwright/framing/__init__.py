"""Facts and events to a Frame: every call for a fitting on a hoop, or on another member, at a place."""

from hoopwright.framing.build import frame

__all__ = ["frame"]
