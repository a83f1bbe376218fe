"""From the bytes of a kept photograph to what the screen draws, and from the clipboard to bytes."""

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QImage, QImageReader

from core.errors import LinebookError


def read_pixels(content: bytes, within: QSize | None = None) -> QImage:
    """The picture of a JPEG, no larger than a size.

    Raises
    ------
    LinebookError
        It is no JPEG that can be read.
    """
    buffer = QBuffer()
    buffer.setData(QByteArray(content))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer, QByteArray(b"jpeg"))
    if within is not None and reader.size().isValid():
        # The reader leaves out dots while it unpacks, which is several times as fast.
        reader.setScaledSize(reader.size().scaled(within, Qt.AspectRatioMode.KeepAspectRatio))
    picture = reader.read()
    if picture.isNull():
        raise LinebookError(
            "The photograph cannot be shown.", "It is no picture that can be read.", "Add it anew."
        )
    return picture


def png_of(picture: QImage) -> bytes:
    """A picture of the clipboard as the bytes of a file."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    picture.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())
