"""The question on joints: a side is one of two kinds, read or made."""

from service.documents.joint import JointQuestion, PartSide, PortSide


def test_a_question_that_is_made_is_one_that_is_read() -> None:
    """Sides may be given as what they are; read from JSON they become that."""
    made = JointQuestion(one=PartSide(sku="A/1", port="b"), other=PortSide(standard="flare", end="male"), revision=3)
    read = {"one": {"sku": "A/1", "port": "b"}, "other": {"standard": "flare", "end": "male"}, "revision": 3}
    assert JointQuestion.model_validate(read) == made
    assert made.model_dump() == read
