"""The words of the photographs, for `core.sheets.words`."""

from collections.abc import Mapping

ENGLISH: Mapping[str, str] = {
    "photographs": "Photographs",
    "photographs_subtitle": "Nameplates, wiring and what else was worth a picture",
    "photographs_key": (
        "A photograph shows what was there when it was taken; a part may have been swapped since. "
        "Read the plate itself before you order or set anything by it. Isolate, lock out and prove "
        "dead before you open an enclosure to do so."
    ),
    "photo_without": "Without a photograph: {tags}.",
    "photo_missing": (
        "This photograph cannot be shown: it is not in the file, or was altered outside Linebook."
    ),
    "photo_taken": "Taken {when}",
    "photo_added": "Added {when}",
    "photo_digest": "SHA-256 {digest}",
}
