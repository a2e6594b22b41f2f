"""The part of the store that writes all of it elsewhere, and takes it in again."""

from pathlib import Path
from typing import BinaryIO

from sqlalchemy import select

from loomwright.errors import StoreError
from loomwright.store import people as persons
from loomwright.store.backing_up import back_up, check_whole, restore
from loomwright.store.exporting import export_archive, export_folder, exported, write_archive
from loomwright.store.files_in import Files, opened_archive, opened_folder
from loomwright.store.importing import Imported, import_files
from loomwright.store.opened import Opened
from loomwright.store.tables import revisions

__all__ = ["Whole"]


class Whole(Opened):
    """Backup, restore, export and import."""

    def backup(self, path: Path) -> None:
        """Write the present state into a new file, one SQLite file for either engine, while the store is in use.

        Raises
        ------
        StoreError
            Where there is a file of that name, it cannot be written, or the store is damaged.
        """
        back_up(self.database, path, now=self.now)

    def check(self) -> int:
        """Look through everything that is kept and return how many revisions and attachments there are.

        Raises
        ------
        StoreError
            Where the file is damaged, or something has other content than was saved.
        """
        return check_whole(self.database)

    def restore(self, path: Path, *, replace: bool = False) -> int:
        """Take over everything that a backup holds, and return the count of revisions.

        Who was erased since the backup was made is erased again, as far as this store or its list of erasures knows.

        Parameters
        ----------
        path
            A file that `backup` wrote, from either engine and from any older program.
        replace
            Whether a store that holds something may be replaced. It is backed up first.

        Raises
        ------
        StoreError
            Where the file is no backup or is damaged, or the store holds something; it is then as it was.
        """
        with self.database.reading() as connection:
            holds_something = connection.execute(select(revisions.c.number).limit(1)).first() is not None
        if holds_something:
            if not replace:
                raise StoreError(
                    f"{self.database.name}: found a store that holds something, expected an empty one; open a new one, "
                    "or say that this one is to be replaced"
                )
            self.backup(self.free_path(f"before-restore-{self.now()[:10]}"))
        noted = self.noted_erasures()
        count = restore(self.database, path, now=self.now, erased=noted)
        self.forget()
        return count

    def export_folder(self, folder: Path) -> int:
        """Write the store as a tree of files into an empty folder, with all of its history; return their count.

        It holds the personal data too. Raises `StoreError` where the folder holds something or cannot be written.
        """
        with self.database.reading() as connection:
            return export_folder(exported(connection), folder)

    def export_archive(self, path: Path) -> int:
        """Write the same tree into one new archive; return the count of its files."""
        with self.database.reading() as connection:
            return export_archive(exported(connection), path)

    def export_stream(self, stream: BinaryIO) -> int:
        """Write that archive into an open file; return the count of its files. Raises `OSError` where that fails."""
        with self.database.reading() as connection:
            return write_archive(exported(connection), stream)

    def import_folder(self, folder: Path, *, by: str | None) -> Imported:
        """Take a tree of files in: an export, or a plain folder with a shop's documents.

        Into an empty store the whole history comes, as it was. Else documents are compared one by one: new ones and
        those of which the tree has a newer version are saved by `by`, which is whoever began the shop where it is
        `None`; those changed here and there are reported, and stay as they are. Pictures that stand beside a document
        which names them are kept with it, without where, when and with what they were taken; those of a history stay
        as they are. All of it is kept, or nothing.

        Raises
        ------
        StoreError
            Where something is not as it is exported, a link, or too large.
        DocumentError
            Where a document cannot be read.
        """
        with opened_folder(folder) as files:
            return self._import(files, by)

    def import_archive(self, archive: Path | BinaryIO, *, by: str | None, called: str = "") -> Imported:
        """Take an archive in, as `import_folder` does a folder. It may come from anybody: nothing is unpacked.

        Parameters
        ----------
        archive
            Its path, or an open file of which one can read any part.
        by
            Who imports.
        called
            What messages call it; its path where left out.
        """
        with opened_archive(archive, called=called) as files:
            return self._import(files, by)

    def _import(self, files: Files, by: str | None) -> Imported:
        noted = self.noted_erasures()
        with self.database.writing() as connection:
            erased = (*persons.erasures_of(connection), *noted)
            return import_files(connection, files, by=by, at=self.now(), erased=erased)
