//! Statements a page sends to the database: as many for a full shop as for a small one.
//!
//! Counted as sqlx reports them, whichever thread runs them, inside the span of the request that asked.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use tracing::field::{Field, Visit};
use tracing::span::{Attributes, Id};
use tracing::{Event, Instrument, Subscriber};
use tracing_subscriber::layer::{Context, Layer, SubscriberExt};
use tracing_subscriber::registry::LookupSpan;

use witnessmark::work::{Audience, FamilyForm};

use crate::shop::{House, full};

/// Keeps a counter with every span called `counted`, and counts there.
struct Counting;

struct Count(Arc<AtomicUsize>);

tokio::task_local! {
    static HERE: Arc<AtomicUsize>;
}

impl<S: Subscriber + for<'a> LookupSpan<'a>> Layer<S> for Counting {
    fn on_new_span(&self, attributes: &Attributes<'_>, id: &Id, context: Context<'_, S>) {
        if attributes.metadata().name() == "counted" {
            let span = context.span(id).expect("the span just made");
            span.extensions_mut().insert(Count(HERE.with(Arc::clone)));
        }
    }

    fn on_event(&self, event: &Event<'_>, context: Context<'_, S>) {
        if event.metadata().target() != "sqlx::query" || !Summary::of(event).starts_with("SELECT") {
            return;
        }
        for span in context.event_scope(event).into_iter().flatten() {
            if let Some(Count(count)) = span.extensions().get() {
                count.fetch_add(1, Ordering::Relaxed);
            }
        }
    }
}

/// The beginning of a statement; those that begin and end a transaction are not counted.
#[derive(Default)]
struct Summary(String);

impl Summary {
    fn of(event: &Event<'_>) -> String {
        let mut summary = Self::default();
        event.record(&mut summary);
        summary.0
    }
}

impl Visit for Summary {
    fn record_str(&mut self, field: &Field, value: &str) {
        if field.name() == "summary" {
            value.clone_into(&mut self.0);
        }
    }

    fn record_debug(&mut self, _: &Field, _: &dyn std::fmt::Debug) {}
}

/// Statements that a page sends when it is asked for the second time.
pub async fn statements(house: &House, address: &str) -> usize {
    static SUBSCRIBED: std::sync::Once = std::sync::Once::new();
    SUBSCRIBED.call_once(|| {
        let counting = tracing_subscriber::registry().with(Counting);
        tracing::subscriber::set_global_default(counting).expect("no other subscriber in these tests");
    });
    assert_eq!(house.see(address).await.status, 200, "{address}");
    let count = Arc::new(AtomicUsize::new(0));
    let asked = async { house.see(address).instrument(tracing::info_span!("counted")).await };
    HERE.scope(Arc::clone(&count), asked).await;
    settled(&count).await
}

/// A statement is reported by the thread that ran it, perhaps a moment after its answer.
async fn settled(count: &AtomicUsize) -> usize {
    let mut before = usize::MAX;
    while before != count.load(Ordering::Relaxed) {
        before = count.load(Ordering::Relaxed);
        tokio::time::sleep(std::time::Duration::from_millis(200)).await;
    }
    before
}

#[tokio::test]
async fn no_page_asks_once_for_every_row() {
    let (small, large) = (House::with_a_job().await, full().await);
    large.open("Another", "vee", 8, 5).await;
    for (house, left) in [(&small, 1), (&large, 4)] {
        for _ in 0..left {
            let job = house.open("Gone", "vee", 8, 5).await;
            house.shop.close_job(&house.doing(), job).await.expect("closed");
        }
    }
    for (job, name) in [(1, "Fours"), (2, "Twelves"), (3, "Sixes")] {
        let family = FamilyForm { name: name.into(), ..FamilyForm::default() };
        large.shop.keep_as_family(&large.doing(), job, &family).await.expect("a family");
        large.shop.issue_card(&large.doing(), 2, Audience::Shop).await.expect("a card");
    }
    let mut too_many = Vec::new();
    for (of_small, of_large, most) in [
        ("/", "/", 17),
        ("/ready", "/ready", 16),
        ("/who", "/who", 3),
        ("/jobs/new", "/jobs/new", 4),
        ("/jobs/closed", "/jobs/closed", 5),
        ("/jobs/1", "/jobs/2", 32),
        ("/jobs/1/steps/bearings", "/jobs/2/steps/bearings", 34),
        ("/jobs/1/plan", "/jobs/2/plan", 48),
        ("/jobs/1/sheets/main-bearings", "/jobs/2/sheets/main-bearings", 30),
        ("/jobs/1/sheets/cylinder-bores", "/jobs/2/sheets/cylinder-bores", 30),
        ("/jobs/1/notes", "/jobs/2/notes", 32),
        ("/jobs/1/details", "/jobs/2/details", 31),
        ("/jobs/1/limits", "/jobs/2/limits", 31),
        ("/jobs/1/card", "/jobs/2/card", 37),
        ("/jobs/1/card/preview/shop.pdf", "/jobs/2/card/preview/shop.pdf", 37),
        ("/jobs/1/family", "/jobs/2/family", 31),
        ("/families", "/families", 4),
        ("/shop", "/shop", 5),
        ("/shop/people", "/shop/people", 2),
        ("/shop/gauges", "/shop/gauges", 2),
        ("/money", "/money", 32),
        ("/jobs/1/charges", "/jobs/2/charges", 62),
        ("/jobs/1/settle", "/jobs/2/settle", 62),
        ("/jobs/1/photos?step=bearings", "/jobs/2/photos?step=bearings", 34),
    ] {
        let (few, many) = (statements(&small, of_small).await, statements(&large, of_large).await);
        assert!(few > 0, "{of_small}: the counter counts nothing");
        assert_eq!(few, many, "{of_large} asks more of a full shop");
        if many > most {
            too_many.push(format!("{of_large}: {many} statements"));
        }
    }
    assert!(too_many.is_empty(), "{too_many:?}");
}
