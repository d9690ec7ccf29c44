//! Files sent to a running server: however long, they take little memory, and what there is no room for is said.

use std::io::{Cursor, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::Command;

use crate::kept::Kept;
use crate::serve::Served;

const EDGE: &str = "edge-of-a-part";
/// The longest file taken in.
const LONGEST: usize = 200_000_000;

/// The most memory a process has taken so far, in MB.
fn most_megabytes(process: u32) -> usize {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).expect("its status");
    let most = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("its peak");
    most.trim().split(' ').next().and_then(|kilobytes| kilobytes.parse::<usize>().ok()).expect("a number") / 1000
}

/// Sends a file of repeated parts to job 1 and gives the answer.
fn send(served: &Served, key: &str, name: &str, part: &[u8], bytes: usize) -> String {
    let head = format!(
        "--{EDGE}\r\nContent-Disposition: form-data; name=\"key\"\r\n\r\n{key}\r\n\
         --{EDGE}\r\nContent-Disposition: form-data; name=\"photos\"; filename=\"{name}\"\r\n\r\n"
    );
    let tail = format!("\r\n--{EDGE}--\r\n");
    let mut stream = TcpStream::connect(&served.address).expect("a server");
    write!(
        stream,
        "POST /jobs/1/photos HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nAccept: application/json\r\n\
         Content-Type: multipart/form-data; boundary={EDGE}\r\nContent-Length: {1}\r\nConnection: close\r\n\r\n{head}",
        served.address,
        head.len() + bytes + tail.len(),
    )
    .expect("asked");
    let mut left = bytes;
    while left > 0 {
        let now = left.min(part.len());
        if stream.write_all(&part[..now]).is_err() {
            break;
        }
        left -= now;
    }
    let _ = stream.write_all(tail.as_bytes());
    let mut answer = Vec::new();
    // A server that has refused may close before everything was sent.
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

/// The names of all files kept below a folder, without what the database has open.
fn files(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).expect("a folder").filter_map(Result::ok);
    let below = entries.flat_map(|entry| {
        if entry.path().is_dir() { files(&entry.path()) } else { vec![entry.path().display().to_string()] }
    });
    below.filter(|name| !name.contains("record.db-")).collect()
}

#[test]
fn a_long_video_goes_through_little_memory() {
    let kept = Kept::with_a_job();
    let before = files(Path::new(kept.data())).len();
    let served = Served::from(Path::new(kept.data()));
    let mut video = vec![7; 1 << 20];
    video[..12].copy_from_slice(b"\0\0\0\x18ftypisom");
    let refused = send(&served, "0123456789abcdef0123456789abcdef", "long.mp4", &video, LONGEST + 1);
    assert!(refused.starts_with("HTTP/1.1 413") && refused.contains("up to 200 MB"), "{refused}");
    assert_eq!(files(Path::new(kept.data())).len(), before, "nothing of it is left");

    let taken = send(&served, "123456789abcdef0123456789abcdef0", "long.mp4", &video, LONGEST);
    assert!(taken.starts_with("HTTP/1.1 200") && taken.contains("\"took\":\"kept\""), "{taken}");
    let page = served.get("/jobs/1/photos");
    let address = page.split("href=\"").find(|part| part.contains("long.mp4")).expect("a link");
    let answer = served.get(address.split('"').next().expect("its address"));
    for header in ["content-type: video/mp4", "content-disposition: attachment", "x-content-type-options: nosniff"] {
        assert!(answer.contains(header), "{header}");
    }
    assert!(answer.len() > LONGEST, "{} bytes", answer.len());
    let most = most_megabytes(served.id());
    assert!(most < 80, "{most} MB");
    served.stop("-TERM");
}

/// Three bytes a pixel (72 MB), the file, and what the server takes anyway as it is built for tests (some 70 MB).
#[test]
fn a_picture_is_decoded_in_bounded_memory() {
    let kept = Kept::with_a_job();
    let served = Served::from(Path::new(kept.data()));
    let mut picture = Cursor::new(Vec::new());
    image::RgbImage::from_fn(6_000, 4_000, |x, y| image::Rgb([x.to_le_bytes()[0], y.to_le_bytes()[0], 90]))
        .write_to(&mut picture, image::ImageFormat::Jpeg)
        .expect("a picture");
    let picture = picture.into_inner();
    let taken = send(&served, "23456789abcdef0123456789abcdef01", "large.jpg", &picture, picture.len());
    assert!(taken.contains("\"took\":\"kept\""), "{taken}");
    assert!(served.get("/jobs/1/photos").contains("alt=\"large.jpg\""), "it is shown");
    let most = most_megabytes(served.id());
    println!("24 megapixels, a JPEG of {} kB: {most} MB at most", picture.len() / 1000);
    assert!(most < 165, "{most} MB");
    served.stop("-TERM");
}

/// A shell lets no file grow beyond 10 MB: as on a disk that is full, the rest is not taken.
#[test]
fn a_full_disk_is_said_and_nothing_is_half_kept() {
    let kept = Kept::with_a_job();
    let before = files(Path::new(kept.data())).len();
    let served = Served::as_begun_by(
        Command::new("sh")
            .args(["-c", "trap '' XFSZ; ulimit -f 20000; exec \"$0\" serve --listen 127.0.0.1:0 --data \"$1\""])
            .args([env!("CARGO_BIN_EXE_witnessmark"), kept.data()]),
    );
    let refused = send(&served, "3456789abcdef0123456789abcdef012", "long.mov", &[7; 1 << 14], 30_000_000);
    assert!(
        refused.starts_with("HTTP/1.1 507") && refused.contains("disk of the shop's computer is full"),
        "{refused}"
    );
    assert_eq!(files(Path::new(kept.data())).len(), before);
    let small = send(&served, "456789abcdef0123456789abcdef0123", "short.mov", &[7; 1 << 14], 1_000_000);
    assert!(small.contains("\"took\":\"kept\""), "{small}");
    served.stop("-TERM");
}
