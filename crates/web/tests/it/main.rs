//! The app as a browser meets it, without a socket.

mod looks;
