//! What can go ahead, against asking each step by itself.

use jiff::civil::date;
use proptest::collection::vec;
use proptest::prelude::*;
use witnessmark::plan::{Ahead, Calendar, Need, Reason, Stand, State, Step, most_urgent_first, stand};

fn any_step(step: usize) -> impl Strategy<Value = Step<'static>> {
    let state = prop_oneof![Just(State::Ahead), Just(State::Begun), Just(State::Done), Just(State::NotOnJob)];
    let need = any::<bool>().prop_map(|met| Need { what: "part", met, due: None });
    (state, vec(any::<prop::sample::Index>(), 0..=step.min(3)), 0.0_f64..20.0, vec(need, 0..3)).prop_map(
        move |(state, before, hours, needs)| Step {
            state,
            after: before.into_iter().map(|one| one.index(step)).collect(),
            hours,
            needs,
        },
    )
}

fn any_job() -> impl Strategy<Value = Vec<Step<'static>>> {
    (1_usize..10).prop_flat_map(|count| (0..count).map(any_step).collect::<Vec<_>>())
}

fn to_do(step: &Step) -> bool {
    matches!(step.state, State::Ahead | State::Begun)
}

/// Whether a step waits for another: directly, or through ones left out.
fn waits_for(steps: &[Step], step: usize, other: usize) -> bool {
    steps[step].after.iter().any(|&one| {
        (one == other && to_do(&steps[one])) || (steps[one].state == State::NotOnJob && waits_for(steps, one, other))
    })
}

fn ahead() -> Ahead {
    let calendar = Calendar::new([8.0; 7], []).expect("a calendar");
    Ahead::new(&calendar, date(2026, 3, 2))
}

proptest! {
    #[test]
    fn a_step_waits_for_what_it_waits_for_by_itself(steps in any_job()) {
        let stands = stand(&steps, None, &ahead()).expect("no circle");
        let open: Vec<usize> = (0..steps.len()).filter(|&step| to_do(&steps[step])).collect();
        prop_assert_eq!(stands.iter().map(|stand| stand.step).collect::<Vec<_>>(), open);
        for stand in &stands {
            let before: Vec<usize> = stand.reasons.iter().filter_map(|reason| match reason {
                Reason::Step(step) => Some(*step),
                Reason::Need(_) => None,
            }).collect();
            let expected: Vec<usize> = (0..steps.len()).filter(|&other| waits_for(&steps, stand.step, other)).collect();
            let missing = steps[stand.step].needs.iter().filter(|need| !need.met).count();
            prop_assert_eq!(stand.reasons.len(), expected.len() + missing);
            prop_assert_eq!(before, expected);
            prop_assert_eq!(stand.is_ready(), stand.reasons.is_empty());
            prop_assert_eq!(stand.only_reason().is_some(), stand.reasons.len() == 1);
        }
    }

    /// A job that is not done has a step that no other step holds up.
    #[test]
    fn something_can_always_go_ahead_once_everything_is_here(mut steps in any_job()) {
        for step in &mut steps {
            step.needs.clear();
        }
        let stands = stand(&steps, None, &ahead()).expect("no circle");
        prop_assert!(stands.is_empty() || stands.iter().any(Stand::is_ready));
    }

    #[test]
    fn a_later_promise_leaves_as_many_days_more(steps in any_job(), days in 0_i64..500) {
        let promised = date(2026, 6, 1);
        let later = promised.saturating_add(jiff::SignedDuration::from_hours(24 * days));
        let (first, second) = (stand(&steps, Some(promised), &ahead()), stand(&steps, Some(later), &ahead()));
        for (first, second) in first.expect("no circle").iter().zip(second.expect("no circle")) {
            prop_assert_eq!(first.spare_days.map(|spare| spare + days), second.spare_days);
            prop_assert!(days == 0 || most_urgent_first(first, &second).is_lt());
        }
    }
}
