//! The planner's own thread. Receives `{ id, kind, text, options }`, as [`Job`] with a number to it, and posts, each
//! with that number:
//!
//! | kind | with | when |
//! |---|---|---|
//! | `ready` | (no number) | once, when it can take jobs |
//! | `progress` | `done`, `choices`, `lookedAt` | now and then during a search |
//! | `report` | `json`, `drawings`, `rigs` | at the end |
//! | `complaints` | `complaints`: JSON | the case can't be read |
//! | `trouble` | `what` | no report can be made of it |

use crate::engine::{self, Answer, Job};
use js_sys::{Array, JSON, Object, Reflect};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent};

/// How long between two messages of progress, milliseconds.
const BETWEEN: f64 = 100.0;

/// Takes jobs from now on.
pub fn start(scope: &DedicatedWorkerGlobalScope) {
    let here = scope.clone();
    let take = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| take(&here, &event.data()));
    scope.set_onmessage(Some(take.as_ref().unchecked_ref()));
    // It lives as long as the worker.
    take.forget();
    post(scope, &message("ready", None));
}

fn take(scope: &DedicatedWorkerGlobalScope, data: &JsValue) {
    let id = Reflect::get(data, &"id".into()).ok().and_then(|id| id.as_f64());
    let job: Result<Job, String> = JSON::stringify(data)
        .map_err(|_| "a message that is no data".to_owned())
        .and_then(|text| crate::tree::read(&String::from(text)).map_err(|e| e.to_string()));
    let answer = match job {
        Err(why) => Answer::Trouble(why),
        Ok(job) => {
            let mut last = js_sys::Date::now();
            engine::answer(&job, &mut |p| {
                let now = js_sys::Date::now();
                if now - last >= BETWEEN {
                    last = now;
                    let m = message("progress", id);
                    for (key, value) in [("done", p.done), ("choices", p.choices), ("lookedAt", p.looked_at)] {
                        set(&m, key, &JsValue::from_f64(value as f64));
                    }
                    post(scope, &m);
                }
            })
        }
    };
    post(scope, &told(answer, id));
}

fn told(answer: Answer, id: Option<f64>) -> Object {
    let texts = |all: Vec<String>| all.into_iter().map(JsValue::from).collect::<Array>();
    match answer {
        Answer::Report(found) => {
            let m = message("report", id);
            set(&m, "json", &found.json.into());
            set(&m, "drawings", &texts(found.drawings));
            set(&m, "rigs", &texts(found.rigs));
            m
        }
        Answer::Complaints(all) => match serde_json::to_string(&all) {
            Ok(text) => {
                let m = message("complaints", id);
                set(&m, "complaints", &text.into());
                m
            }
            Err(e) => told(Answer::Trouble(e.to_string()), id),
        },
        Answer::Trouble(what) => {
            let m = message("trouble", id);
            set(&m, "what", &what.into());
            m
        }
    }
}

fn message(kind: &str, id: Option<f64>) -> Object {
    let m = Object::new();
    set(&m, "kind", &kind.into());
    if let Some(id) = id {
        set(&m, "id", &id.into());
    }
    m
}

fn set(object: &Object, key: &str, value: &JsValue) {
    // A plain object takes every key.
    let _ = Reflect::set(object, &key.into(), value);
}

fn post(scope: &DedicatedWorkerGlobalScope, message: &Object) {
    // Plain data can always be posted.
    let _ = scope.post_message(message);
}
