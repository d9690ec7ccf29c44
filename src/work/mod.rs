//! What happens in the shop: one function per action, loading, deciding and saving in one transaction; and what the pages
//! show, worked out from one consistent look at the record.

mod accept;
mod account;
mod accounts;
mod arrivals;
mod bench_calendar;
mod bench_time;
mod bring;
mod card;
mod card_lines;
mod card_measured;
mod card_paper;
mod card_tables;
mod changed;
mod changes;
mod charge_choices;
mod charges;
mod closed;
mod cores;
mod correct;
mod deliveries;
mod develop;
mod doing;
mod edit_job;
mod end_job;
mod end_of_day;
mod endings;
mod except;
mod expansions;
mod families;
mod family_changes;
mod family_history;
mod family_hours;
mod findings;
mod floor;
mod gauge_settings;
mod gauges;
mod in_shop;
mod inspect;
mod inspection_points;
mod invoice_paper;
mod invoices;
mod job;
mod job_record;
mod keep_charge;
mod keep_made;
mod keep_part;
mod keep_quote;
mod keep_sending;
mod limits;
mod made;
mod money;
mod money_glance;
mod money_settings;
mod move_part;
mod needs;
mod notes;
mod one_reading;
mod open_job;
mod options;
mod orders;
mod parts;
mod pay;
mod people;
mod photo_view;
mod photos;
mod plan;
mod plan_picture;
mod plan_tasks;
mod promises;
mod quarantine;
mod quote;
mod quote_changes;
mod reading_view;
mod ready;
mod receiving;
mod repeatability;
mod round_temperatures;
mod rounds;
mod rounds_compared;
mod said_for_all;
mod search;
mod second_checks;
mod second_readings;
mod sendings;
mod set_doubts;
mod settle;
mod settle_view;
mod settling;
mod sheet;
mod sheet_pictures;
mod shop_settings;
mod slot_view;
mod stale;
mod step_plan;
mod steps;
mod studies;
mod study_results;
mod study_view;
mod suppliers;
mod supplies;
mod supply;
mod tablets;
mod tag;
mod take;
mod target_fields;
mod tightenings;
mod times;
mod took;
mod unlisted;
mod waits;
mod when;

pub use accept::NewCall;
pub use bench_calendar::{CalendarView, ClosureForm, WEEKDAYS, WeekForm};
pub use bring::ReadElsewhere;
pub use card::{CardIssueView, CardView, IssuedCard};
pub use card_lines::{CardLine, CardSection};
pub use card_measured::sheet_of_line;
pub use changes::{ChangeForm, ChangeView, ChangesView, StaleHere, StaleSheet};
pub use charge_choices::{LineChoices, given_on};
pub use charges::{ChargesView, CoverRow, InvoiceRow, LineForm, LineRow, MoneyRow, UnlistedRow};
pub use closed::{ClosedRow, ClosedView};
pub use cores::CoreRow;
pub use correct::{Corrected, NewCorrection};
pub use doing::{Doing, FieldFault, Refused};
pub use edit_job::{JobForm, JobFormView, SerialField, TargetField};
pub use end_job::EndingForm;
pub use end_of_day::{DayEntry, DayView, ProposedRow};
pub use endings::{EndingShown, EndingView, ThingField};
pub use except::{ExceptView, RecheckView};
pub use expansions::{ExpansionForm, ExpansionView};
pub use families::{FamilyForm, FamilyLimit, FamilyPage, FamilyView};
pub use family_changes::{FamilyChangeForm, FamilyChangeView, FamilyChangesView};
pub use family_hours::{FamilyHoursView, PastRow, PastStep};
pub use findings::{Call, FindingView, Tally};
pub use floor::{FloorRow, FloorView, StepLink};
pub use gauge_settings::{GaugeChoice, SettingForm};
pub use gauges::{GaugeForm, GaugeView};
pub use inspect::{InspectionForm, InspectionView, LookedForm, LookedView, PointView};
pub use invoices::{DrawUpView, InvoiceForm, InvoiceView, PaperRow};
pub use job::{JobHead, JobView, NoteView, SignView, StepRow, StepView};
pub use job_record::JobRecord;
pub use keep_charge::{DiscountForm, LineView};
pub use keep_made::{MadeReadingForm, MadeSizeForm};
pub use keep_part::PartForm;
pub use keep_quote::{AnswerForm, TermsForm};
pub use keep_sending::{AskForm, SendingForm};
pub use limits::{LimitField, LimitForm, LimitView, LimitsView, PastLimit};
pub use made::{CarriedView, MadeGlance, MadeReadingView, MadeSizeView, MadeView};
pub use money_glance::{AwaitedRow, GlanceRow, GlanceView, OpenCoreRow, ToSettleRow};
pub use money_settings::{MoneyForm, MoneyView, TaxForm, TaxView};
pub use move_part::MoveForm;
pub use one_reading::OneReadingView;
pub use open_job::NewJob;
pub use options::{ChoiceView, DecisionView, OptionsView};
pub use orders::{OrderForm, OrderGroup, OrdersView};
pub use parts::{MoveView, PartChoices, PartRow, PartView, PartsView};
pub use pay::PaymentForm;
pub use people::{PersonForm, PersonView};
pub use photo_view::{PhotoView, Shown};
pub use photos::{Arriving, Beside, FileOut, LONGEST_FILE, Photo, PhotoSize};
pub use plan::{MovedView, MoverView, PlanAsked, PlanNeed, PlanStep, PlanView, ToldView};
pub use promises::{PromiseForm, PromiseView};
pub use quarantine::LabelView;
pub use quote::{AnswerView, Asked, ChangeRow, HOWS, QuoteLineForm, QuoteLineView, QuoteView};
pub use quote_changes::AgreedChangeForm;
pub use reading_view::ReadingView;
pub use ready::{PartlyRow, ReadyRow, ReadyView, WaitingJob, WaitingRow};
pub use receiving::{CameForm, ReceiveForm, ReceivingView};
pub use round_temperatures::{TemperaturesForm, TemperaturesView};
pub use rounds::RoundForm;
pub use rounds_compared::{ComparedPlace, RoundsCompared};
pub use search::{FoundJob, FoundOther, FoundView, Hit, Stretch};
pub use second_checks::CheckView;
pub use second_readings::SecondField;
pub use sendings::{AskedView, SendingChoices, SendingRow, SendingView, SendingsView};
pub use settle_view::{DueRow, GoesRow, OnOrderRow, SettleView, SettledShown};
pub use settling::{GoneForm, METHODS, RefundForm, SettleForm, StorageForm};
pub use sheet::{PlaceView, RoundView, SheetRow, SheetView};
pub use shop_settings::ShopSettings;
pub use slot_view::SlotView;
pub use step_plan::{BeforeView, HoursForm, StepPlanView};
pub use studies::{STUDY_UNITS, StudyEntry, StudyForm};
pub use study_results::{StudyLine, StudyResults, StudyShare, TableLine};
pub use study_view::{StudiedGauge, StudiesView, StudyCorrection, StudyFigure, StudyRow, StudySpotView, StudyView};
pub use suppliers::{SupplierForm, SupplierRow, SupplierView};
pub use supplies::{AwayLine, PartLine};
pub use supply::{PartState, Supply};
pub use tablets::{TabletView, pin_fault};
pub use tag::TagView;
pub use take::{NewEntry, Took};
pub use tightenings::{TighteningForm, TighteningView};
pub use times::{ClockView, StepHoursRow, StepTime, TimeForm, TimeRow, TimeView};
pub use waits::{WaitForm, WaitView};

/// Words of the rooms above that the pages speak in.
pub use crate::drawing::{Drawing, Mark};
pub use crate::engine::{
    Audience, FACTS, FactGroup, FactKey, FindingFeature, FindingKey, Layout, Place, SheetKey, SlotKey, TargetGroup,
    WorkingUnit,
};
pub use crate::metrology::{GaugeKind, Material, Rule};
pub use crate::record::builds::BuildKind;
pub use crate::record::carried::MadeFor;
pub use crate::record::endings::{EndingKind, Whither};
pub use crate::record::parts::{AsItCame, Origin, Whose};
pub use crate::record::readings::ReadingState;
pub use crate::record::rounds::{Condition, RoundKind};
pub use crate::record::steps::StepState;
pub use crate::record::worked::Charged;
pub use crate::record::{Error as RecordError, gauges::STEP_UNITS};
pub use crate::sheets::{SetDoubt, Standing, Wanted, home_of};

use crate::record::{self, Record};
use findings::Memo;
use in_shop::LastLook;
use std::path::Path;
use std::sync::Arc;
use tokio::sync::Semaphore;

/// The shop: its record, and what was worked out from it and is still true.
#[derive(Clone)]
pub struct Shop {
    record: Record,
    memo: Memo,
    last_look: LastLook,
    /// Held by the one who develops a picture.
    developing: Arc<Semaphore>,
}

impl Shop {
    /// Opens the shop's record in a folder, or begins an empty one.
    ///
    /// # Errors
    /// As [`Record::open`].
    pub async fn open(folder: &Path) -> record::Result<Self> {
        let record = Record::open(folder).await?;
        Ok(Self {
            record,
            memo: Memo::default(),
            last_look: LastLook::default(),
            developing: Arc::new(Semaphore::new(1)),
        })
    }

    /// Whether a shop's record lies in a folder.
    pub fn is_in(folder: &Path) -> bool {
        Record::is_in(folder)
    }

    /// Closes the record; nothing may be asked of the shop afterwards.
    pub async fn close(&self) {
        self.record.close().await;
    }

    /// The record itself, for export.
    pub fn record(&self) -> &Record {
        &self.record
    }
}
