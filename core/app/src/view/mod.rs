//! What screens show: made from the fold, with every rule already applied.
//! These are wire types; nothing below the door knows them.

mod answers;
mod bench;
mod job;
mod list;
mod pan;
mod record;
mod report;

pub use answers::{AnswerView, LinkView};
pub use bench::{
    BoltView, ComponentView, ExplainView, HarnessView, PartNoted, PartSet, PartView, PassView,
    ReadingCall, ReadingView, StretchCall, StretchView, TighteningView,
};
pub use job::{
    AnswerAsked, CodeView, CustomerView, DecisionView, JobView, LineView, NearView, OfferView,
    StageView, StepView, ToGive, VinView, WantView,
};
pub use list::{CodeTableView, JobLine, ProcedureView, StartView, SyncView, UnitOffered, UnitSet};
pub use pan::{
    BandOnScale, CensusSummary, ClassCount, HistogramBar, LinkOffer, ParticleView, PhotoCensusView,
    PhotoView, ReasonPieces, ReasonView, TrendPoint, TrendView, WearView,
};
pub use record::{RecordRow, RecordView};
pub use report::{CostView, NamedText, ReportStanding, ReportView};
pub use swarfbook_judge::course::Standing;
pub use swarfbook_measure::conformity::ReadingVerdict;
