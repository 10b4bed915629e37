//! `swarf://localhost/photo/NAME?w=WIDTH`: a copy of a photo out.

use std::sync::Arc;

use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::term;
use tauri::http::{Method, Request, Response, StatusCode, Uri, header};
use tauri::{AppHandle, Manager, Runtime, UriSchemeResponder};

use crate::call::spoken;
use crate::darkroom::Darkroom;
use crate::door::Door;

/// Answers when the copy is made; the window goes on meanwhile.
pub(crate) fn answer<R: Runtime>(
    shell: &AppHandle<R>,
    darkroom: &Arc<Darkroom>,
    request: Request<Vec<u8>>,
    responder: UriSchemeResponder,
) {
    let shell = shell.clone();
    darkroom.ask(move || {
        let copy = spoken(&shell, || copy(&shell.state::<Door>(), &request));
        responder.respond(response(copy));
    });
}

fn copy(door: &Door, request: &Request<Vec<u8>>) -> Result<Vec<u8>, Problem> {
    if request.method() != Method::GET {
        return Err(nowhere(term!("photos-are-only-read-here")));
    }
    let (photo, width) = asked(request.uri())?;
    door.app()?.photo(photo, width)
}

/// Which photo, and how wide at the most in pixels.
fn asked(uri: &Uri) -> Result<(Sha256Hex, Option<u32>), Problem> {
    let photo = uri
        .path()
        .strip_prefix("/photo/")
        .and_then(|name| name.parse().ok())
        .ok_or_else(|| nowhere(term!("there-is-no-photo-of-this-name")))?;
    let width = uri
        .query()
        .unwrap_or_default()
        .split('&')
        .find_map(|pair| pair.strip_prefix("w="));
    let width = width
        .map(str::parse)
        .transpose()
        .map_err(|_| nowhere(term!("a-photos-width-is-a-whole-number-of")))?;
    Ok((photo, width))
}

fn nowhere(what: &str) -> Problem {
    Problem::new(
        ProblemKind::BadRequest,
        what,
        term!("open-the-job-again-nothing-was-changed"),
    )
}

fn response(copy: Result<Vec<u8>, Problem>) -> Response<Vec<u8>> {
    let (status, kind, body) = match copy {
        Ok(jpeg) => (StatusCode::OK, "image/jpeg", jpeg),
        Err(problem) => {
            let status = match problem.kind {
                ProblemKind::NotFound => StatusCode::NOT_FOUND,
                ProblemKind::BadRequest => StatusCode::BAD_REQUEST,
                _ => StatusCode::INTERNAL_SERVER_ERROR,
            };
            let words = serde_json::to_vec(&problem).unwrap_or_default();
            (status, "application/json", words)
        }
    };
    let caching = if status == StatusCode::OK {
        // The name is the hash of the bytes: it never means another photo.
        "private, max-age=31536000, immutable"
    } else {
        "no-store"
    };
    Response::builder()
        .status(status)
        .header(header::CONTENT_TYPE, kind)
        .header(header::CACHE_CONTROL, caching)
        .header(header::X_CONTENT_TYPE_OPTIONS, "nosniff")
        .body(body)
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::*;

    const NAME: &str = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08";

    fn get(address: &str) -> Request<Vec<u8>> {
        Request::get(address).body(Vec::new()).unwrap()
    }

    fn door() -> (tempfile::TempDir, Door) {
        let folder = tempfile::tempdir().unwrap();
        let door = Door::at(folder.path().to_owned(), false);
        (folder, door)
    }

    #[test]
    fn an_address_names_a_photo_and_perhaps_a_width() {
        let address = |text: &str| asked(&text.parse().unwrap());
        let whole = address(&format!("swarf://localhost/photo/{NAME}")).unwrap();
        assert_eq!((whole.0.to_string().as_str(), whole.1), (NAME, None));
        let small = address(&format!("swarf://localhost/photo/{NAME}?w=400")).unwrap();
        assert_eq!(small.1, Some(400));
        for bad in [
            "swarf://localhost/".to_owned(),
            "swarf://localhost/photo/".to_owned(),
            "swarf://localhost/photo/../../etc/passwd".to_owned(),
            format!("swarf://localhost/photo/{NAME}/"),
            format!("swarf://localhost/photo/{NAME}0"),
            format!("swarf://localhost/photo/{NAME}?w=wide"),
            format!("swarf://localhost/photo/{NAME}?w=-1"),
            format!("swarf://localhost/photo/{NAME}?w="),
        ] {
            assert!(address(&bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_photo_comes_back_as_a_jpeg_no_wider_than_asked() {
        let (_folder, door) = door();
        let mut png = Cursor::new(Vec::new());
        image::RgbImage::new(200, 100)
            .write_to(&mut png, image::ImageFormat::Png)
            .unwrap();
        let name = door.app().unwrap().put_photo(png.get_ref()).unwrap();
        let address = format!("swarf://localhost/photo/{name}?w=50");
        let answer = response(copy(&door, &get(&address)));
        assert_eq!(answer.status(), StatusCode::OK);
        assert_eq!(answer.headers()[header::CONTENT_TYPE], "image/jpeg");
        let shown = image::load_from_memory(answer.body()).unwrap();
        assert_eq!((shown.width(), shown.height()), (50, 25));
    }

    #[test]
    fn what_is_not_there_is_said_and_not_remembered() {
        let (_folder, door) = door();
        let address = format!("swarf://localhost/photo/{NAME}");
        let answer = response(copy(&door, &get(&address)));
        assert_eq!(answer.status(), StatusCode::NOT_FOUND);
        assert_eq!(answer.headers()[header::CACHE_CONTROL], "no-store");
        let post = Request::post(address).body(Vec::new()).unwrap();
        assert_eq!(
            response(copy(&door, &post)).status(),
            StatusCode::BAD_REQUEST
        );
    }
}
