use super::Error;
use std::io::{self, ErrorKind};
use std::path::Path;

/// The error for a file or folder that the machine would not `what` (`read`, `write`, `make the folder`): in words that say
/// what to do, where the system's own would speak of numbers. Always [`Kind::Machine`](super::Kind::Machine).
pub fn refused(what: &str, path: &Path, error: io::Error) -> Error {
    use ErrorKind::*;
    let place = path.display();
    let told = match error.kind() {
        StorageFull | QuotaExceeded => {
            format!("There is no room left to {what} {place}; make room, then try again.")
        }
        PermissionDenied | ReadOnlyFilesystem => format!(
            "This computer does not allow filemot to {what} {place}; allow it, then try again."
        ),
        NotFound => format!(
            "Cannot {what} {place}: there is no such file or folder; look whether it was moved."
        ),
        IsADirectory => format!("Cannot {what} {place}: it is a folder; name a file."),
        NotADirectory | AlreadyExists => format!(
            "Cannot {what} {place}: a file stands where a folder must be; choose another place."
        ),
        InvalidFilename => {
            format!(
                "Cannot {what} {place}: its name is too long for the disk; choose a shorter one."
            )
        }
        InvalidData => {
            let told =
                format!("Cannot {what} {place}: it is not a text file; choose another file.");
            return Error::file(told).because(error);
        }
        _ => format!("Cannot {what} {place}; see that the disk is connected, then try again."),
    };
    Error::machine(told).because(error)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_system_number_reaches_the_person() {
        // POSIX.1-2017, <errno.h>, numbers as Linux has them: the kinds a studio meets, and one that nobody does.
        for number in [1, 2, 5, 13, 17, 20, 21, 28, 30, 36, 40, 95] {
            let error = io::Error::from_raw_os_error(number);
            let told = refused("write", Path::new("notes/LB007.html"), error).to_string();
            assert!(!told.contains("os error"), "{told}");
            assert!(
                told.contains("notes/LB007.html") && told.ends_with('.'),
                "{told}"
            );
            assert!(told.contains(';'), "it says what to do: {told}");
        }
    }
}
