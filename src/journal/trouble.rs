//! What SQLite says, in a sentence for the craftsperson: what, where, and whose move it is.

use crate::error::Error;
use rusqlite::ErrorCode;
use std::path::Path;

/// The error of this program for one of SQLite's, about the journal in `dir`.
pub(super) fn told(dir: &Path, error: rusqlite::Error) -> Error {
    let place = dir.display();
    use ErrorCode::*;
    let told = match error.sqlite_error_code() {
        Some(DatabaseBusy | DatabaseLocked) => Error::journal(format!(
            "The journal in {place} is in use by another program; wait until that is done, then try again."
        )),
        Some(NotADatabase) => Error::journal(format!(
            "journal.sqlite in {place} is not a journal, or it is badly damaged; put your newest backup in its place, under that name."
        )),
        Some(DatabaseCorrupt) => Error::journal(format!(
            "The journal in {place} is damaged; copy the whole folder first, then put your newest backup in place of journal.sqlite."
        )),
        Some(DiskFull) => Error::machine(format!(
            "There is no room left on the disk for the journal in {place}; make room, then try again. Nothing that stood in it is lost."
        )),
        Some(ReadOnly | PermissionDenied | CannotOpen | AuthorizationForStatementDenied) => {
            Error::machine(format!(
                "The journal in {place} cannot be written; allow writing in that folder, or copy it to a disk where you may."
            ))
        }
        Some(SystemIoFailure) => Error::machine(format!(
            "The disk failed at the journal in {place}; see that it is connected, sound and has room left, then try again."
        )),
        Some(ConstraintViolation) => Error::journal(format!(
            "The journal in {place} did not take a value, so nothing was changed; run “filemot check” and report this as a fault."
        )),
        _ => Error::journal(format!(
            "The journal in {place} holds something this program cannot read; update filemot, then run “filemot check”."
        )),
    };
    told.because(error)
}
