//! Photos: added to a record, served, removed, refused.

use axum::body::Body;
use axum::http::{Request, StatusCode};
use http_body_util::BodyExt as _;
use image::{ImageFormat, RgbImage};
use linkwright_store::records::{Blade, Image, Photo};
use linkwright_store::{Record, StoreError};
use tower::ServiceExt as _;

use crate::bench::{Answer, Bench};

const BOUNDARY: &str = "between-the-parts";

fn blade() -> Blade {
    Blade {
        name: "small, thin".to_owned(),
        diameter_typed: "1 1/4 in".to_owned(),
        diameter_mm: 31.75,
        kerf_typed: "0.25 mm".to_owned(),
        kerf_mm: 0.25,
        teeth: Some(250),
        hub_typed: None,
        hub_mm: None,
        fitted_on: None,
        rings_before: 0,
        cut_before_mm2: 0.0,
        retired_on: None,
        retired_why: String::new(),
        note: String::new(),
    }
}

fn blade_page(bench: &Bench) -> String {
    format!("/photos/new?record=blade&id={}", bench.keep(&blade()))
}

fn count<T: Record>(bench: &Bench) -> u64 {
    let count: Result<u64, StoreError> = bench.app.store().read(|view| view.count::<T>());
    count.expect("read")
}

fn jpeg(shade: u8) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let picture = RgbImage::from_pixel(40, 30, image::Rgb([shade; 3]));
    picture.write_to(&mut bytes, ImageFormat::Jpeg).expect("written");
    bytes.into_inner()
}

/// The parts of a form with a picture, as a browser sends them.
fn parts(token: &str, caption: &str, picture: &[u8]) -> Vec<u8> {
    let mut body = Vec::new();
    for (name, text) in [("token", token), ("caption", caption), ("taken_on", "2026-11-20")] {
        let part = format!(
            "--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{text}\r\n"
        );
        body.extend(part.as_bytes());
    }
    let head = format!(
        "--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"picture\"; filename=\"a.jpg\"\r\n\
         Content-Type: image/jpeg\r\n\r\n"
    );
    body.extend(head.as_bytes());
    body.extend(picture);
    body.extend(format!("\r\n--{BOUNDARY}--\r\n").as_bytes());
    body
}

async fn send(bench: &Bench, page: &str, caption: &str, picture: &[u8]) -> Answer {
    let token = bench.get(page).await.attribute("main input[name=token]", "value");
    send_with(bench, page, &token, caption, picture).await
}

async fn send_with(
    bench: &Bench,
    page: &str,
    token: &str,
    caption: &str,
    picture: &[u8],
) -> Answer {
    let kind = format!("multipart/form-data; boundary={BOUNDARY}");
    bench.post_as(page, &kind, parts(token, caption, picture)).await
}

#[tokio::test]
async fn a_photo_is_added_shown_and_served_as_one_that_never_changes() {
    let bench = Bench::new();
    let page = blade_page(&bench);
    let sent = send(&bench, &page, "teeth worn on one side", &jpeg(90)).await;
    assert_eq!((sent.status, sent.location.as_deref()), (StatusCode::SEE_OTHER, Some(&*page)));
    let shown = bench.get(&page).await;
    assert_eq!(shown.words("h1")[0], "Photos of blade small, thin");
    assert_eq!(shown.attribute(".photos img", "alt"), "teeth worn on one side");
    assert_eq!(shown.attribute(".photos img", "width"), "40");
    let address = shown.attribute(".photos img", "src");
    let request = Request::get(&address).header("host", "127.0.0.1:8040").body(Body::empty());
    let router = linkwright_web::app(bench.app.clone());
    let got = router.oneshot(request.expect("a request")).await.expect("answered");
    let header = |name: &str| got.headers()[name].to_str().expect("text").to_owned();
    assert_eq!(header("content-type"), "image/jpeg");
    assert_eq!(header("x-content-type-options"), "nosniff");
    assert!(header("cache-control").contains("immutable"));
    let bytes = got.into_body().collect().await.expect("whole").to_bytes();
    assert_eq!(image::guess_format(&bytes).expect("a picture"), ImageFormat::Jpeg);
}

#[tokio::test]
async fn a_removed_photo_comes_back_with_undo_since_its_picture_stays() {
    let bench = Bench::new();
    let page = blade_page(&bench);
    send(&bench, &page, "", &jpeg(90)).await;
    let shown = bench.get(&page).await;
    let remove = shown.attribute(".photos form", "action");
    let token = shown.attribute(".photos form input[name=token]", "value");
    let form = "application/x-www-form-urlencoded";
    let removed = bench.post_as(&remove, form, format!("token={token}")).await;
    assert_eq!(removed.status, StatusCode::SEE_OTHER);
    assert_eq!((count::<Photo>(&bench), count::<Image>(&bench)), (0, 1));
    assert_eq!(bench.get(&page).await.words(".empty")[0], "No photo yet.");
    bench.app.store().undo_last(bench.app.clock().now()).expect("undone");
    assert_eq!(bench.get(&page).await.attribute(".photos img", "width"), "40");
}

#[tokio::test]
async fn one_picture_shown_twice_is_kept_once_and_one_form_sent_twice_is_one_photo() {
    let bench = Bench::new();
    let page = blade_page(&bench);
    let token = bench.get(&page).await.attribute("main input[name=token]", "value");
    for _ in 0..2 {
        let sent = send_with(&bench, &page, &token, "one", &jpeg(90)).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER);
    }
    assert_eq!(count::<Photo>(&bench), 1);
    send(&bench, &page, "the same picture again", &jpeg(90)).await;
    send(&bench, &page, "another", &jpeg(200)).await;
    assert_eq!((count::<Photo>(&bench), count::<Image>(&bench)), (3, 2));
}

#[tokio::test]
async fn what_is_no_picture_is_refused_beside_its_field_and_the_words_are_kept() {
    let bench = Bench::new();
    let page = blade_page(&bench);
    for (upload, said) in [
        (b"hello".to_vec(), "no JPEG, PNG or WebP"),
        (Vec::new(), "choose a picture"),
        (vec![0xff; 13 * 1024 * 1024], "larger than 12 MB"),
    ] {
        let answer = send(&bench, &page, "a caption typed", &upload).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        let complaint = &answer.words("#picture-about .complaint")[0];
        assert!(complaint.contains(said), "{complaint}");
        assert_eq!(answer.attribute("#caption", "value"), "a caption typed");
        assert_eq!(answer.attribute("#picture", "aria-invalid"), "true");
    }
    assert_eq!((count::<Photo>(&bench), count::<Image>(&bench)), (0, 0));
}

#[tokio::test]
async fn a_form_without_our_token_in_front_is_refused() {
    let bench = Bench::new();
    let page = blade_page(&bench);
    let forged = send_with(&bench, &page, "no.token", "", &jpeg(90)).await;
    assert_eq!(forged.status, StatusCode::FORBIDDEN);
    assert_eq!(count::<Image>(&bench), 0);
}

#[tokio::test]
async fn photos_of_what_is_not_there_or_cannot_have_any_are_not_found() {
    let bench = Bench::new();
    for page in [
        "/photos/new?record=blade&id=7",
        "/photos/new?record=sqlite_master&id=1",
        "/photos/9.jpg",
        "/photos/9",
        "/photos/..%2f..%2fetc.jpg",
    ] {
        assert_eq!(bench.get(page).await.status, StatusCode::NOT_FOUND, "{page}");
    }
}
