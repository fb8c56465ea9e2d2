//! The outputs of `answer_key` together: every file and the standard output, or none.

use std::fs::{self, File, OpenOptions};
use std::path::Path;
use std::process::{Command, Stdio};

use crate::answer_key::{ISSUED, run};
use crate::program::built;
use crate::ran::{Ran, folder, names_in, sheet};

#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../examples/shared/files.rs"]
mod files;
#[allow(dead_code, reason = "the program uses more of it")]
#[path = "../../examples/shared/input.rs"]
mod input;

/// Runs the program with its standard output in a file.
fn run_into(out: impl Into<Stdio>, arguments: &[&str]) -> Ran {
    let output = Command::new(built("answer_key", "answer_key"))
        .args(arguments)
        .stdout(out)
        .output()
        .expect("the program starts");
    Ran::of("answer_key", output)
}

fn appending(path: &str) -> File {
    let mut options = OpenOptions::new();
    options.append(true).create(true).open(path).unwrap()
}

#[test]
#[cfg(target_os = "linux")]
fn nothing_is_replaced_if_the_key_cannot_be_printed() {
    let here = folder("full");
    let (marks, strips) = (here.join("marks.csv"), here.join("strips.txt"));
    fs::write(&marks, "old").unwrap();
    let arguments = [
        "--marks",
        marks.to_str().unwrap(),
        "--feedback",
        strips.to_str().unwrap(),
    ];
    let full = OpenOptions::new().write(true).open("/dev/full").unwrap();
    let ran = run_into(full, &arguments);
    ran.complains("the text could not be printed: no space left");
    assert!(!ran.err.contains("os error"), "{}", ran.err);
    assert_eq!(ran.status, 2);
    assert_eq!(fs::read_to_string(&marks).unwrap(), "old");
    assert_eq!(names_in(&here), ["marks.csv"]);
}

/// In `answer_key --marks marks.csv | head -1` the key was read as far as it was wanted.
#[test]
fn files_are_written_if_the_reader_of_the_key_has_gone() {
    let marks = folder("gone").join("marks.csv");
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let ran = run_into(writer, &["--marks", marks.to_str().unwrap()]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert!(fs::read_to_string(&marks).unwrap().starts_with("bench,"));
}

#[test]
fn standard_output_is_no_file_that_is_read_or_written_by_name() {
    let here = folder("stdout");
    let marks = here.join("marks.csv");
    let marks = marks.to_str().unwrap();
    fs::write(marks, "old\n").unwrap();
    for option in ["--marks", "--feedback", "--project"] {
        let ran = run_into(appending(marks), &[option, marks]);
        ran.complains(&format!("standard output and {option} name the same file"));
        assert_eq!(ran.status, 2);
        assert_eq!(fs::read_to_string(marks).unwrap(), "old\n");
    }
    let text = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n";
    let class = sheet("stdout.csv", text);
    let class = class.to_str().unwrap();
    let ran = run_into(appending(class), &[class, ISSUED[0], ISSUED[1]]);
    ran.complains("standard output and the sheet name the same file");
    assert_eq!(fs::read_to_string(class).unwrap(), text);
    assert_eq!(names_in(&here), ["marks.csv"]);
    // The complaints of a run are not replaced by its marks.
    let status = Command::new(built("answer_key", "answer_key"))
        .args(["--marks", marks])
        .stdout(Stdio::null())
        .stderr(appending(marks))
        .status();
    assert_eq!(status.unwrap().code(), Some(2));
    let said = fs::read_to_string(marks).unwrap();
    assert!(
        said.starts_with("old\nanswer_key: standard error and --marks name the same file"),
        "{said}"
    );
}

#[cfg(unix)]
#[test]
fn a_file_keeps_its_mode_and_a_read_only_one_stays_as_it_is() {
    use std::os::unix::fs::PermissionsExt;
    let marks = folder("mode").join("marks.csv");
    let set = |mode| fs::set_permissions(&marks, fs::Permissions::from_mode(mode)).unwrap();
    let mode = || fs::metadata(&marks).unwrap().permissions().mode() & 0o7777;
    for kept in [0o600, 0o640, 0o666, 0o755] {
        fs::write(&marks, "old").unwrap();
        set(kept);
        run(&["--marks", marks.to_str().unwrap()]).quiet();
        assert!(fs::read_to_string(&marks).unwrap().starts_with("bench,"));
        assert_eq!(mode(), kept);
    }
    fs::write(&marks, "old").unwrap();
    for refused in [0o444, 0o400, 0o555] {
        set(refused);
        let ran = run(&["--marks", marks.to_str().unwrap()]);
        ran.complains("marks.csv could not be written: it is read-only; allow writing to it");
        assert_eq!((ran.status, ran.out.as_str()), (2, ""));
        assert_eq!(mode(), refused);
    }
    set(0o600);
    assert_eq!(fs::read_to_string(&marks).unwrap(), "old");
}

#[cfg(unix)]
#[test]
fn a_link_to_nothing_is_left_alone() {
    let here = folder("dangling");
    let link = here.join("link.csv");
    std::os::unix::fs::symlink("nothing.csv", &link).unwrap();
    run(&["--marks", link.to_str().unwrap()]).complains("a link to a file that does not exist");
    assert_eq!(fs::read_link(&link).unwrap(), Path::new("nothing.csv"));
    assert_eq!(names_in(&here), ["link.csv"]);
    let new = format!("{}/new.csv/", here.display());
    run(&["--marks", &new]).complains("it has no name; give the name of a file");
    assert_eq!(names_in(&here), ["link.csv"]);
}

#[test]
fn a_failed_rename_says_what_was_written() {
    let here = folder("rename");
    let path = |name: &str| here.join(name);
    let output = |name: &str| files::Output::new("--marks", &path(name), b"new".to_vec());
    for (name, broken, written) in [
        ("first", "a", "; no file was replaced"),
        ("last", "c", "a, "),
    ] {
        for old in ["a", "b", "c"] {
            let _ = fs::remove_dir_all(path(old));
            fs::write(path(old), "old").unwrap();
        }
        let outputs = ["a", "b", "c"].map(output);
        let staged = files::stage(&outputs).unwrap();
        for old in ["a", "b", "c"] {
            assert_eq!(fs::read_to_string(path(old)).unwrap(), "old", "{name}");
        }
        // Somebody puts a folder where the file was.
        fs::remove_file(path(broken)).unwrap();
        fs::create_dir_all(path(broken).join("folder")).unwrap();
        let message = files::replace(staged).unwrap_err();
        let failed = path(broken);
        let expected = format!("--marks: {} could not be written: ", failed.display());
        assert!(message.starts_with(&expected), "{message}");
        assert!(message.contains(written), "{message}");
        assert_eq!(names_in(&here), ["a", "b", "c"]);
    }
    assert_eq!(fs::read_to_string(path("b")).unwrap(), "new");
    // A file of a run that was ended by force is removed by the next.
    // Here the program is this test.
    let part = |name: &str| format!(".{name}.{}.part", env!("CARGO_CRATE_NAME"));
    for other in ["d", "e"] {
        fs::write(path(&part(other)), "marks").unwrap();
    }
    files::replace(files::stage(&[output("d")]).unwrap()).unwrap();
    let of_another_output = part("e");
    assert_eq!(names_in(&here), [&of_another_output, "a", "b", "c", "d"]);
    assert_eq!(fs::read_to_string(path("d")).unwrap(), "new");
}

/// Who could read a file can still read it after the administrator has written it.
#[cfg(unix)]
#[test]
fn a_file_keeps_its_owner() {
    use std::os::unix::fs::{MetadataExt, chown};
    let marks = folder("owner").join("marks.csv");
    fs::write(&marks, "old").unwrap();
    // Only the administrator may give a file away.
    let owner = match chown(&marks, Some(1000), Some(1000)) {
        Ok(()) => (1000, 1000),
        Err(_) => fs::metadata(&marks)
            .map(|old| (old.uid(), old.gid()))
            .unwrap(),
    };
    run(&["--marks", marks.to_str().unwrap()]).quiet();
    let new = fs::metadata(&marks).unwrap();
    assert_eq!((new.uid(), new.gid()), owner);
    assert!(fs::read_to_string(&marks).unwrap().starts_with("bench,"));
}

#[test]
fn two_names_of_one_file_are_refused() {
    let here = folder("hard_links");
    let [one, other] = ["one.csv", "other.csv"].map(|name| here.join(name));
    let text = "bench,hydrate_g,residue_g\nHeron,2.666,1.303\n";
    fs::write(&one, text).unwrap();
    fs::hard_link(&one, &other).unwrap();
    let [one, other] = [&one, &other].map(|path| path.to_str().unwrap());
    for arguments in [
        &["--marks", one, "--feedback", other][..],
        &[one, ISSUED[0], ISSUED[1], "--marks", other],
    ] {
        let ran = run(arguments);
        ran.complains("name the same file");
        assert_eq!(ran.status, 2);
        assert_eq!(fs::read_to_string(one).unwrap(), text);
    }
}

/// No bench could be marked for accuracy against it, so the policy is wrong, and no file is written.
#[test]
fn a_stock_without_water_is_refused_however_it_is_given() {
    let here = folder("stock");
    let marks = here.join("marks.csv");
    for stock in [
        "percent_water = 0",
        "hydrate = 2.666\nresidue = 2.666",
        "crucible = 21.352\ncrucible_hydrate = 24.018\nheated = [24.018, 24.018]",
    ] {
        let policy = sheet("stock.toml", &format!("[jar]\n{stock}\n"));
        let policy = policy.to_str().unwrap();
        let ran = run(&["--policy", policy, "--marks", marks.to_str().unwrap()]);
        ran.complains("no hydrate contains 0 % water");
        assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{stock}");
        assert_eq!(names_in(&here), [""; 0], "{stock}");
    }
}
