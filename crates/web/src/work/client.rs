//! The worker itself: started when it is first needed, ended to take a job back, started anew.

use super::Queue;
use crate::engine::{Answer, Finding, Job};
use js_sys::{Array, JSON, Reflect};
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{MessageEvent, Worker, WorkerOptions, WorkerType};

/// What is heard of a job.
#[derive(Clone, Debug, PartialEq)]
pub enum News {
    /// How far it is: choices dealt with, of how many, and riggings looked at.
    Progress(usize, usize, usize),
    /// It is done.
    Done(Answer),
    /// The worker is gone, and the job with it.
    Lost(String),
}

type Listener = Box<dyn FnMut(News)>;

#[derive(Default)]
struct Inner {
    worker: Option<Worker>,
    /// What the worker calls; kept as long as it.
    ears: Vec<Closure<dyn FnMut(JsValue)>>,
    queue: Queue,
    listeners: Vec<(u32, Listener)>,
}
impl Inner {
    fn listener(&mut self, id: u32) -> Option<Listener> {
        let at = self.listeners.iter().position(|(of, _)| *of == id)?;
        Some(self.listeners.swap_remove(at).1)
    }
}

/// The worker of the page.
#[derive(Clone, Default)]
pub struct Work(Rc<RefCell<Inner>>);

impl Work {
    /// Gives a job to the worker. What is heard of it goes to the listener, after this call has come back.
    pub fn run(&self, job: &Job, listener: impl FnMut(News) + 'static) -> u32 {
        // A job is plain data, which can always be written: an object with something in it.
        let text = serde_json::to_string(job).unwrap_or_default();
        let rest = text.strip_prefix('{').unwrap_or("}");
        let mut inner = self.0.borrow_mut();
        let id = inner.queue.add(|id| format!("{{\"id\":{id},{rest}"));
        inner.listeners.push((id, Box::new(listener)));
        drop(inner);
        self.start();
        self.send();
        id
    }
    /// Takes a job back. Nothing more is heard of it.
    pub fn cancel(&self, id: u32) {
        let mut inner = self.0.borrow_mut();
        drop(inner.listener(id));
        if inner.queue.cancel(id) {
            end(&mut inner);
            let others = !inner.listeners.is_empty();
            drop(inner);
            if others {
                self.start();
            }
        }
    }
    fn start(&self) {
        if self.0.borrow().worker.is_some() {
            return;
        }
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = match Worker::new_with_options("./worker.js", &options) {
            Ok(worker) => worker,
            Err(e) => return self.lose(&format!("{e:?}")),
        };
        let here = self.clone();
        let hear = Closure::<dyn FnMut(JsValue)>::new(move |event: JsValue| {
            if let Ok(event) = event.dyn_into::<MessageEvent>() {
                here.hear(&event.data());
            }
        });
        let here = self.clone();
        let fail = Closure::<dyn FnMut(JsValue)>::new(move |event: JsValue| here.lose(&text(&event, "message")));
        worker.set_onmessage(Some(hear.as_ref().unchecked_ref()));
        worker.set_onerror(Some(fail.as_ref().unchecked_ref()));
        let mut inner = self.0.borrow_mut();
        inner.worker = Some(worker);
        inner.ears = vec![hear, fail];
    }
    fn send(&self) {
        let mut inner = self.0.borrow_mut();
        for waiting in inner.queue.due() {
            if let (Some(worker), Ok(message)) = (&inner.worker, JSON::parse(&waiting.message)) {
                // Plain data can always be posted.
                let _ = worker.post_message(&message);
            }
        }
    }
    fn hear(&self, data: &JsValue) {
        let id = Reflect::get(data, &"id".into()).ok().and_then(|id| id.as_f64()).unwrap_or_default() as u32;
        let number =
            |key: &str| Reflect::get(data, &key.into()).ok().and_then(|n| n.as_f64()).unwrap_or_default() as usize;
        match text(data, "kind").as_str() {
            "ready" => {
                self.0.borrow_mut().queue.ready();
                self.send();
            }
            "no-start" => self.lose(&text(data, "what")),
            "progress" => {
                let news = News::Progress(number("done"), number("choices"), number("lookedAt"));
                // The listener may speak to us in turn, so it is taken out while it listens.
                let listener = self.0.borrow_mut().listener(id);
                if let Some(mut listener) = listener {
                    listener(news);
                    self.0.borrow_mut().listeners.push((id, listener));
                }
            }
            "report" => {
                let texts = |key: &str| -> Vec<String> {
                    let all = Reflect::get(data, &key.into()).unwrap_or_default();
                    Array::from(&all).iter().filter_map(|t| t.as_string()).collect()
                };
                let found = Finding { json: text(data, "json"), drawings: texts("drawings"), rigs: texts("rigs") };
                self.done(id, Answer::Report(found));
            }
            "complaints" => match crate::tree::read(&text(data, "complaints")) {
                Ok(all) => self.done(id, Answer::Complaints(all)),
                Err(e) => self.done(id, Answer::Trouble(e.to_string())),
            },
            _ => self.done(id, Answer::Trouble(text(data, "what"))),
        }
    }
    fn done(&self, id: u32, answer: Answer) {
        let mut inner = self.0.borrow_mut();
        inner.queue.done(id);
        let listener = inner.listener(id);
        drop(inner);
        if let Some(mut listener) = listener {
            listener(News::Done(answer));
        }
    }
    /// The worker has failed: everybody who waits is told, and the next job starts a new one.
    fn lose(&self, why: &str) {
        let mut inner = self.0.borrow_mut();
        end(&mut inner);
        let ids = inner.queue.lost();
        let told: Vec<Listener> = ids.into_iter().filter_map(|id| inner.listener(id)).collect();
        drop(inner);
        for mut listener in told {
            listener(News::Lost(why.to_owned()));
        }
    }
}

/// Ends the worker. What it calls may be running right now, so that goes a moment later.
fn end(inner: &mut Inner) {
    if let Some(worker) = inner.worker.take() {
        worker.set_onmessage(None);
        worker.set_onerror(None);
        worker.terminate();
    }
    let ears = core::mem::take(&mut inner.ears);
    wasm_bindgen_futures::spawn_local(async move { drop(ears) });
}

fn text(object: &JsValue, key: &str) -> String {
    Reflect::get(object, &key.into()).ok().and_then(|t| t.as_string()).unwrap_or_default()
}
