"""Texts in XML, against the standard library."""

from xml.sax import saxutils

from hypothesis import given
from hypothesis import strategies as st

from twodrum.xlsx.markup import escape, quoteattr


@given(st.text(alphabet=st.one_of(st.sampled_from("<>&\"'\n\r\t;# "), st.characters())))
def test_a_text_is_written_as_the_standard_library_writes_it(text: str) -> None:
    assert escape(text) == saxutils.escape(text)
    assert quoteattr(text) == saxutils.quoteattr(text)
