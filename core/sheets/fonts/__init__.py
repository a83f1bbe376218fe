"""The fonts that sheets are set in, shipped so that paper looks the same on every machine."""
