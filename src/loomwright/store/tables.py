"""The tables as the newest migration leaves them, for queries."""

from sqlalchemy import BigInteger, Column, LargeBinary, MetaData, Table, Text

__all__ = ["attachments", "blobs", "erasures", "heads", "metadata", "people", "revisions", "serials"]

metadata = MetaData()

people = Table(
    "people", metadata,
    Column("id", Text, primary_key=True),
    Column("name", Text), Column("contact", Text), Column("address", Text), Column("note", Text),
)  # fmt: skip

revisions = Table(
    "revisions", metadata,
    Column("number", BigInteger, primary_key=True, autoincrement=False),
    Column("kind", Text), Column("id", Text), Column("version", BigInteger), Column("base", BigInteger),
    Column("action", Text), Column("by_person", Text), Column("at", Text), Column("sha256", Text), Column("text", Text),
)  # fmt: skip

blobs = Table("blobs", metadata, Column("sha256", Text, primary_key=True), Column("data", LargeBinary))

attachments = Table(
    "attachments", metadata,
    Column("revision", BigInteger, primary_key=True, autoincrement=False), Column("name", Text, primary_key=True),
    Column("media_type", Text), Column("sha256", Text),
)  # fmt: skip

serials = Table(
    "serials", metadata, Column("serial", Text, primary_key=True), Column("at", Text), Column("by_person", Text)
)

erasures = Table(
    "erasures", metadata, Column("person", Text, primary_key=True), Column("at", Text), Column("by_person", Text)
)

# Which revision is the latest of each document; it follows from the revisions and can be made anew from them. The slot
# is the number of the document's first revision, and its row in the index of words.
heads = Table(
    "heads", metadata,
    Column("slot", BigInteger, primary_key=True, autoincrement=False),
    Column("kind", Text), Column("id", Text), Column("number", BigInteger),
)  # fmt: skip
