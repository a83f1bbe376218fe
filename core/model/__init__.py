"""What a line file holds: frozen records that declare their own fields.

`Line` is the root of the graph. `RECORDS` maps each table to its declaration.
"""

from core.model.commissioning import CalibrationPoint, Check, OwnCheck
from core.model.fields import RECORDS, RECORDS_BY_CLASS, ChildSpec, FieldSpec, RecordSpec
from core.model.line import Line
from core.model.photo import Photo
from core.model.plant import (
    Acceptance,
    Bus,
    DriveType,
    Enclosure,
    Flow,
    Instrument,
    ListedSetting,
    Pair,
    Person,
    ReferenceInput,
    Supply,
    Terminal,
)
from core.model.recipe import Recipe, RecipeSpeed
from core.model.station import (
    Cable,
    Controls,
    DigitalInput,
    Drive,
    Drivetrain,
    Motor,
    Output,
    Preset,
    Process,
    Setting,
    SpeedReference,
    Station,
)

__all__ = [
    "RECORDS",
    "RECORDS_BY_CLASS",
    "Acceptance",
    "Bus",
    "Cable",
    "CalibrationPoint",
    "Check",
    "ChildSpec",
    "Controls",
    "DigitalInput",
    "Drive",
    "DriveType",
    "Drivetrain",
    "Enclosure",
    "FieldSpec",
    "Flow",
    "Instrument",
    "Line",
    "ListedSetting",
    "Motor",
    "Output",
    "OwnCheck",
    "Pair",
    "Person",
    "Photo",
    "Preset",
    "Process",
    "Recipe",
    "RecipeSpeed",
    "RecordSpec",
    "ReferenceInput",
    "Setting",
    "SpeedReference",
    "Station",
    "Supply",
    "Terminal",
]
