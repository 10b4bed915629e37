//! The one door: App::call(Command) to Reply.
