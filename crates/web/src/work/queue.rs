//! Which jobs wait for the worker, which it has, and what becomes of them when it is ended or lost. No browser here.

/// A job on its way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    /// Its number.
    pub id: u32,
    /// The message that it is.
    pub message: String,
}

/// The jobs of a worker.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Queue {
    last: u32,
    ready: bool,
    waiting: Vec<Waiting>,
    sent: Vec<Waiting>,
}
impl Queue {
    /// Takes a job in and gives its number. The message is made from it.
    pub fn add(&mut self, message: impl FnOnce(u32) -> String) -> u32 {
        self.last += 1;
        let id = self.last;
        self.waiting.push(Waiting { id, message: message(id) });
        id
    }
    /// The worker can take jobs.
    pub fn ready(&mut self) {
        self.ready = true;
    }
    /// What is to be sent now. It counts as sent.
    pub fn due(&mut self) -> Vec<Waiting> {
        if !self.ready {
            return Vec::new();
        }
        let due = core::mem::take(&mut self.waiting);
        self.sent.extend(due.iter().cloned());
        due
    }
    /// A job is answered. Gives whether anybody still waits for it.
    pub fn done(&mut self, id: u32) -> bool {
        let before = self.sent.len();
        self.sent.retain(|w| w.id != id);
        before != self.sent.len()
    }
    /// Nobody wants a job any more. Gives whether the worker must be ended and started anew: it has the job and can't be
    /// asked to let go of it. The other jobs that it had wait again.
    pub fn cancel(&mut self, id: u32) -> bool {
        self.waiting.retain(|w| w.id != id);
        if !self.done(id) {
            return false;
        }
        self.ready = false;
        self.sent.append(&mut self.waiting);
        self.waiting = core::mem::take(&mut self.sent);
        true
    }
    /// The worker is gone. Gives the numbers of all jobs; none is kept.
    pub fn lost(&mut self) -> Vec<u32> {
        self.ready = false;
        let all = core::mem::take(&mut self.sent).into_iter().chain(core::mem::take(&mut self.waiting));
        all.map(|w| w.id).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn add(q: &mut Queue) -> u32 {
        q.add(|id| format!("job {id}"))
    }
    fn ids(all: &[Waiting]) -> Vec<u32> {
        all.iter().map(|w| w.id).collect()
    }

    #[test]
    fn regress_jobs_wait_until_the_worker_is_ready() {
        let mut q = Queue::default();
        let (a, b) = (add(&mut q), add(&mut q));
        assert!(q.due().is_empty());
        q.ready();
        let due = q.due();
        assert_eq!((ids(&due), due[0].message.as_str()), (vec![a, b], "job 1"));
        assert!(q.due().is_empty());
        assert!(q.done(a) && !q.done(a) && q.done(b));
    }
    #[test]
    fn regress_a_job_that_waits_is_taken_back_without_a_new_worker() {
        let mut q = Queue::default();
        let a = add(&mut q);
        assert!(!q.cancel(a));
        q.ready();
        assert!(q.due().is_empty());
    }
    #[test]
    fn regress_taking_back_a_running_job_keeps_the_others_in_their_order() {
        let mut q = Queue::default();
        q.ready();
        let (a, b) = (add(&mut q), add(&mut q));
        assert_eq!(q.due().len(), 2);
        let c = add(&mut q);
        assert!(q.cancel(a));
        assert!(q.due().is_empty(), "the new worker is not ready");
        q.ready();
        assert_eq!(ids(&q.due()), [b, c]);
        assert!(!q.cancel(a) && !q.done(a));
    }
    #[test]
    fn regress_a_lost_worker_loses_its_jobs() {
        let mut q = Queue::default();
        q.ready();
        let a = add(&mut q);
        let _ = q.due();
        let b = add(&mut q);
        assert_eq!(q.lost(), [a, b]);
        q.ready();
        assert!(q.due().is_empty());
    }
}
