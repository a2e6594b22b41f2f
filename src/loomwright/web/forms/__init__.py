"""Forms: from parts of documents to fields a person types into, and back to plain values. Nothing here is stored."""
