//! One file a page: the reckoning turned into what its template prints.

mod about;
mod cautions;
mod defects;
mod due;
mod entry;
mod gear;
mod guide;
mod guides;
mod home;
mod log;
mod meters;
mod occasions;
mod search;
mod stores;
mod system;
mod tools;

pub use about::about;
pub use cautions::cautions;
pub use defects::defects;
pub use gear::gear;
pub use guide::guide;
pub use guides::guides;
pub use home::home;
pub use log::{log_index, log_page};
pub use meters::meters;
pub use occasions::occasions;
pub use search::search;
pub use stores::stores;
pub use system::system;
pub use tools::tools;
