from hypothesis import given
from hypothesis import strategies as st

from core.sheets.picture_tracks import Span, tracks_of

SPANS = st.lists(
    st.builds(
        Span, st.sampled_from(["channel", "gutter"]), st.integers(0, 2), *[st.integers(0, 9)] * 2
    ),
    max_size=25,
)


def _numbered(spans):
    return [Span(s.kind, s.lane, s.start, s.end, way) for way, s in enumerate(spans)]


def _touch(one, other):
    return max(min(one.start, one.end), min(other.start, other.end)) <= min(
        max(one.start, one.end), max(other.start, other.end)
    )


@given(SPANS)
def test_stretches_that_touch_never_share_a_track(spans):
    spans = _numbered(spans)
    track, _ = tracks_of(spans)
    for one in spans:
        for other in spans:
            if one != other and (one.kind, one.lane) == (other.kind, other.lane):
                assert track[one] != track[other] or not _touch(one, other)


@given(SPANS)
def test_there_are_no_more_tracks_than_stretches_over_one_point(spans):
    spans = _numbered(spans)
    _, count = tracks_of(spans)
    for (kind, lane), tracks in count.items():
        of = [span for span in spans if (span.kind, span.lane) == (kind, lane)]
        most = max(
            sum(min(s.start, s.end) <= point <= max(s.start, s.end) for s in of)
            for point in range(10)
        )
        assert tracks == most
