"""hoopwright: from the manual of a hoop-framed tunnel to a hoop-by-hoop fitting schedule."""

__version__ = "0.1.0"
