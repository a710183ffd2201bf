//! Writes what good photos were opened as, where independent libraries can be asked: `tests/decoders/read_photos.py` does.

use filemot::photo;
use std::path::Path;

#[test]
fn opened_photos_are_written_for_independent_decoders() {
    let photos = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/good/photos");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("opened_photos");
    std::fs::create_dir_all(&folder).unwrap();
    let mut written = 0;
    for entry in std::fs::read_dir(photos).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "json") {
            continue;
        }
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let opened = photo::decode(&std::fs::read(&path).unwrap(), &name).unwrap();
        let lines = lines(&opened.photograph);
        std::fs::write(folder.join(format!("{name}.csv")), lines).unwrap();
        written += 1;
    }
    assert!(written > 60);
}

/// A line with width and height, then a line with XYZ (D65, Y of white 1) for each pixel, row by row.
fn lines(photo: &filemot::picture::Photograph) -> String {
    let mut lines = format!("{},{}\n", photo.width, photo.height);
    for number in 0..photo.width * photo.height {
        let rgb = photo
            .linear(number % photo.width, number / photo.width)
            .array();
        let [x, y, z] = filemot::colour::apply(photo.encoding.to_xyz, rgb);
        lines += &format!("{x:.6},{y:.6},{z:.6}\n");
    }
    lines
}
