//! What the words of this module promise, each held by itself.

use super::*;
use std::cell::{Cell, RefCell};
use std::rc::Rc;

/// What was done, in its order.
#[derive(Clone, Default)]
struct Log(Rc<RefCell<Vec<String>>>);
impl Log {
    fn say(&self, what: impl ToString) {
        self.0.borrow_mut().push(what.to_string());
    }
    fn take(&self) -> Vec<String> {
        self.0.take()
    }
}

/// A scope of its own; what is made in it is gone afterwards, to the last node.
fn app<T>(f: impl FnOnce() -> T) -> T {
    let before = graph::count();
    let (scope, out) = Scope::here().child(f);
    scope.end();
    flush();
    assert_eq!(graph::count(), before, "something outlived its scope");
    out
}

#[test]
fn regress_an_effect_runs_a_moment_later_and_once_for_several_changes() {
    app(|| {
        let (a, b, log) = (RwSignal::new(1), RwSignal::new(2), Log::default());
        let l = log.clone();
        effect(move || l.say(a.get() + b.get()));
        assert!(log.take().is_empty());
        flush();
        assert_eq!(log.take(), ["3"]);
        a.set(10);
        b.set(20);
        a.update(|n| *n += 1);
        assert!(log.take().is_empty());
        flush();
        assert_eq!(log.take(), ["31"]);
        flush();
        assert!(log.take().is_empty());
    });
}

#[test]
fn regress_what_is_done_at_once_is_followed_before_it_returns() {
    app(|| {
        let (a, b, log) = (RwSignal::new(1), RwSignal::new(2), Log::default());
        let l = log.clone();
        effect(move || l.say(a.get() + b.get()));
        flush();
        log.take();
        at_once(|| {
            a.set(10);
            b.set(20);
        });
        assert_eq!(log.take(), ["30"]);
        // Later changes wait again.
        a.set(11);
        assert!(log.take().is_empty());
        flush();
        assert_eq!(log.take(), ["31"]);
    });
}

#[test]
fn regress_watching_begins_at_once() {
    app(|| {
        let (a, log) = (RwSignal::new(1), Log::default());
        let l = log.clone();
        watch(Box::new(move || l.say(a.get())));
        assert_eq!(log.take(), ["1"]);
        // It is set, so it counts as changed.
        a.set(1);
        flush();
        assert_eq!(log.take(), ["1"]);
    });
}

#[test]
fn regress_what_follows_is_worked_out_when_somebody_asks_and_never_twice() {
    app(|| {
        let (a, log) = (RwSignal::new(1), Log::default());
        let l = log.clone();
        let twice = Signal::new(move || {
            l.say("worked");
            2 * a.get()
        });
        assert!(log.take().is_empty());
        assert_eq!((twice.get(), twice.get(), twice.get_untracked()), (2, 2, 2));
        assert_eq!(log.take(), ["worked"]);
        a.set(2);
        a.set(3);
        assert!(log.take().is_empty());
        assert_eq!(twice.with(|n| *n), 6);
        assert_eq!(log.take(), ["worked"]);
    });
}

#[test]
fn regress_a_value_that_comes_out_as_it_was_wakes_nobody() {
    app(|| {
        let (a, log) = (RwSignal::new(1), Log::default());
        let big = Signal::new(move || a.get() > 10);
        let l = log.clone();
        let word = Signal::new(move || {
            l.say("word");
            if big.get() { "big" } else { "small" }
        });
        let l = log.clone();
        watch(Box::new(move || l.say(word.get())));
        assert_eq!(log.take(), ["word", "small"]);
        a.set(2);
        flush();
        assert!(log.take().is_empty());
        a.set(11);
        flush();
        assert_eq!(log.take(), ["word", "big"]);
    });
}

#[test]
fn regress_nobody_sees_half_of_a_change() {
    app(|| {
        let (a, log) = (RwSignal::new(1), Log::default());
        let (more, less) = (Signal::new(move || a.get() + 1), Signal::new(move || a.get() - 1));
        let l = log.clone();
        watch(Box::new(move || l.say(format!("{} {} {}", a.get(), more.get(), less.get()))));
        a.set(5);
        flush();
        assert_eq!(log.take(), ["1 2 0", "5 6 4"]);
    });
}

#[test]
fn regress_only_what_was_read_last_time_is_followed() {
    app(|| {
        let (first, a, b, log) = (RwSignal::new(true), RwSignal::new(1), RwSignal::new(2), Log::default());
        let l = log.clone();
        watch(Box::new(move || l.say(if first.get() { a.get() } else { b.get() })));
        b.set(20);
        flush();
        first.set(false);
        flush();
        a.set(10);
        flush();
        b.set(30);
        flush();
        assert_eq!(log.take(), ["1", "20", "30"]);
    });
}

#[test]
fn regress_what_is_looked_at_without_following_is_not_followed() {
    app(|| {
        let (a, b, log) = (RwSignal::new(1), RwSignal::new(1), Log::default());
        let l = log.clone();
        watch(Box::new(move || l.say(a.get() + b.get_untracked() + b.with_untracked(|n| *n) + untrack(|| b.get()))));
        b.set(2);
        flush();
        assert_eq!(log.take(), ["4"]);
        a.set(2);
        flush();
        assert_eq!(log.take(), ["8"]);
    });
}

#[test]
fn regress_what_a_run_made_is_gone_before_the_next() {
    app(|| {
        let (open, log) = (RwSignal::new(Some(1)), Log::default());
        let l = log.clone();
        watch(Box::new(move || {
            let Some(n) = open.get() else { return };
            let inner = RwSignal::new(n);
            let (a, b) = (l.clone(), l.clone());
            // It would fail without a case, and it must never run without one.
            watch(Box::new(move || a.say(open.with(|o| o.unwrap()) + inner.get())));
            on_cleanup(move || b.say(format!("end {}", inner.get_untracked())));
        }));
        open.set(Some(2));
        flush();
        assert_eq!(log.take(), ["2", "end 1", "4"]);
        open.set(None);
        flush();
        assert_eq!(log.take(), ["end 2"]);
        let before = graph::count();
        for n in 0..100 {
            open.set(Some(n));
            flush();
            open.set(None);
            flush();
        }
        assert_eq!(graph::count(), before);
    });
}

#[test]
fn regress_owners_run_before_what_they_own_by_whatever_way_they_hear_of_it() {
    app(|| {
        let (a, log) = (RwSignal::new(1), Log::default());
        let some = Signal::new(move || (a.get() > 0).then(|| a.get()));
        let l = log.clone();
        watch(Box::new(move || {
            let there = some.with(Option::is_some);
            l.say(there);
            if there {
                let l = l.clone();
                // Hears of it first, as it reads the value itself.
                watch(Box::new(move || l.say(format!("inner {}", a.get()))));
            }
        }));
        a.set(2);
        flush();
        assert_eq!(log.take(), ["true", "inner 1", "true", "inner 2"]);
        a.set(0);
        flush();
        assert_eq!(log.take(), ["false"]);
    });
}

#[test]
fn regress_cleanups_run_from_within_and_values_are_still_there() {
    let log = Log::default();
    let l = log.clone();
    app(move || {
        let kept = StoredValue::new("outer");
        let out = l.clone();
        on_cleanup(move || out.say(kept.get_value()));
        Scope::here().child(move || {
            let kept = StoredValue::new("inner".to_owned());
            on_cleanup(move || l.say(kept.update_value(core::mem::take).unwrap_or_default()));
        });
    });
    assert_eq!(log.take(), ["inner", "outer"]);
}

#[test]
fn regress_to_set_what_is_gone_does_nothing_and_to_try_it_gives_none() {
    app(|| {
        let (scope, (signal, stored, call)) =
            Scope::here().child(|| (RwSignal::new(1), StoredValue::new(Some(2)), Callback::<i32, i32>::new(|n| n + 1)));
        assert_eq!(
            (stored.try_get_value(), signal.try_get_untracked(), call.try_run(1)),
            (Some(Some(2)), Some(1), Some(2))
        );
        assert_eq!(call.run(2), 3);
        scope.end();
        // What takes the places of those that are gone is not taken for them.
        let other = Scope::here().child(|| (RwSignal::new(7), RwSignal::new(7), RwSignal::new(7), RwSignal::new(7))).1;
        signal.set(3);
        signal.update(|n| *n += 1);
        signal.track();
        stored.set_value(None);
        assert_eq!(stored.update_value(Option::take), None);
        assert_eq!((stored.try_get_value(), signal.try_get_untracked(), call.try_run(1)), (None, None, None));
        assert_eq!((other.0.get(), other.1.get(), other.2.get(), other.3.get()), (7, 7, 7, 7));
    });
}

#[test]
#[should_panic(expected = "gone")]
fn regress_to_read_what_is_gone_is_a_fault() {
    let (scope, signal) = Scope::here().child(|| RwSignal::new(1));
    scope.end();
    signal.get();
}

#[test]
fn regress_a_value_may_be_set_while_somebody_looks_at_it() {
    app(|| {
        let all = RwSignal::new(vec![1, 2]);
        let seen = all.with(|now| {
            all.update(|a| a.push(3));
            all.with(|then| (now.clone(), then.clone()))
        });
        assert_eq!(seen, (vec![1, 2], vec![1, 2, 3]));
        all.set(Vec::new());
        assert!(all.with(Vec::is_empty));
    });
}

#[test]
fn regress_what_an_effect_sets_is_dealt_with_in_the_same_go() {
    app(|| {
        let (a, log) = (RwSignal::new(0), Log::default());
        effect(move || {
            if a.get() < 3 {
                a.update(|n| *n += 1);
            }
        });
        let l = log.clone();
        effect(move || l.say(a.get()));
        flush();
        assert_eq!(log.take(), ["3"]);
    });
}

#[test]
fn regress_a_last_value_is_handed_on() {
    app(|| {
        let a = RwSignal::new(Some(1));
        let kept = Signal::with_last(move |last: Option<&Option<i32>>| a.get().or(last.copied().flatten()));
        assert_eq!(kept.get(), Some(1));
        a.set(None);
        assert_eq!(kept.get(), Some(1));
        a.set(Some(4));
        assert_eq!(kept.get(), Some(4));
    });
}

#[test]
fn regress_the_nearest_scope_gives_what_it_was_asked_for() {
    app(|| {
        provide_context(1_u8);
        provide_context("outer");
        let runs = RwSignal::new(0);
        let log = Log::default();
        let l = log.clone();
        watch(Box::new(move || {
            runs.track();
            l.say(expect_context::<&str>());
            provide_context("inner");
            let l = l.clone();
            watch(Box::new(move || l.say(format!("{} {}", expect_context::<&str>(), expect_context::<u8>()))));
        }));
        runs.set(1);
        flush();
        assert_eq!(log.take(), ["outer", "inner 1", "outer", "inner 1"]);
        assert_eq!(expect_context::<&str>(), "outer");
    });
}

#[test]
fn regress_rows_outlive_the_run_that_made_them() {
    app(|| {
        let (list, log) = (RwSignal::new(vec![1]), Log::default());
        let (here, l) = (Scope::here(), log.clone());
        let rows = RefCell::new(Vec::<(i32, Scope)>::new());
        watch(Box::new(move || {
            let wanted = list.get();
            let mut rows = rows.borrow_mut();
            rows.retain(|(n, scope)| {
                let stays = wanted.contains(n);
                if !stays {
                    scope.end();
                }
                stays
            });
            for n in wanted {
                if rows.iter().all(|(k, _)| *k != n) {
                    let l = l.clone();
                    rows.push((n, here.child(move || on_cleanup(move || l.say(n))).0));
                }
            }
        }));
        list.set(vec![1, 2]);
        flush();
        assert!(log.take().is_empty());
        list.set(vec![2]);
        flush();
        assert_eq!(log.take(), ["1"]);
        list.set(vec![]);
        flush();
        assert_eq!(log.take(), ["2"]);
    });
}

thread_local! {
    static WOKEN: Cell<u32> = const { Cell::new(0) };
}

#[test]
fn regress_whoever_runs_effects_is_told_once() {
    app(|| {
        on_wake(|| WOKEN.with(|w| w.set(w.get() + 1)));
        let a = RwSignal::new(1);
        a.set(2);
        assert_eq!(WOKEN.get(), 0, "nobody follows it");
        effect(move || a.track());
        effect(move || a.track());
        assert_eq!(WOKEN.get(), 1);
        flush();
        a.set(3);
        a.set(4);
        assert_eq!(WOKEN.get(), 2);
        flush();
        assert_eq!(WOKEN.get(), 2);
    });
}
