//! The camera, where the browser can read codes in what it sees. The browser asks for permission; nothing is kept.

use crate::dom::prelude::{document, window};
use js_sys::{Array, Function, Object, Promise, Reflect};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{HtmlVideoElement, MediaStream, MediaStreamConstraints, MediaStreamTrack};

/// A camera that is open, and the browser's own reader of codes.
#[derive(Clone)]
pub(super) struct Camera {
    stream: MediaStream,
    reader: JsValue,
}
impl Camera {
    /// Whether this browser has both.
    pub(super) fn there() -> bool {
        reader().is_some() && window().navigator().media_devices().is_ok()
    }
    /// Asks for the camera that looks away from the reader, and shows what it sees.
    pub(super) async fn open(video: &HtmlVideoElement) -> Result<Self, JsValue> {
        let constructor = reader().ok_or(JsValue::NULL)?;
        let wish = Object::new();
        Reflect::set(&wish, &"formats".into(), &Array::of1(&"qr_code".into()))?;
        let reader = Reflect::construct(&constructor, &Array::of1(&wish))?;
        let constraints = MediaStreamConstraints::new();
        let facing = Object::new();
        Reflect::set(&facing, &"facingMode".into(), &"environment".into())?;
        constraints.set_video(&facing);
        let asked = window().navigator().media_devices()?.get_user_media_with_constraints(&constraints)?;
        let stream: MediaStream = JsFuture::from(asked).await?.unchecked_into();
        video.set_src_object(Some(&stream));
        JsFuture::from(video.play()?).await?;
        Ok(Self { stream, reader })
    }
    /// The texts of the codes that are seen just now.
    pub(super) async fn look(&self, video: &HtmlVideoElement) -> Vec<String> {
        self.try_look(video).await.unwrap_or_default()
    }
    async fn try_look(&self, video: &HtmlVideoElement) -> Result<Vec<String>, JsValue> {
        let detect: Function = Reflect::get(&self.reader, &"detect".into())?.dyn_into()?;
        let promise: Promise = detect.call1(&self.reader, video)?.dyn_into()?;
        let found = Array::from(&JsFuture::from(promise).await?);
        Ok(found.iter().filter_map(|c| Reflect::get(&c, &"rawValue".into()).ok()?.as_string()).collect())
    }
    /// Lets go of the camera.
    pub(super) fn stop(&self) {
        for track in self.stream.get_tracks().iter() {
            track.unchecked_into::<MediaStreamTrack>().stop();
        }
    }
}

fn reader() -> Option<Function> {
    document().default_view().and_then(|w| Reflect::get(&w, &"BarcodeDetector".into()).ok())?.dyn_into().ok()
}

/// Waits for so many milliseconds.
pub(super) async fn pause(ms: i32) {
    let promise = Promise::new(&mut |done, _| {
        // Without a timer the wait is none, and the loop is ended by its own condition.
        let _ = window().set_timeout_with_callback_and_timeout_and_arguments_0(&done, ms);
    });
    let _ = JsFuture::from(promise).await;
}
