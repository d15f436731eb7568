//! What must hold of learning whatever the trials: honest where nothing was tried, moved by what
//! was, and the same whichever way it is asked.

mod workshop;

mod beliefs;
