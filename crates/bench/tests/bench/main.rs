//! The bench, asked as a browser or a program asks it, without a socket.

mod api;
mod encrypted;
mod forms;
mod gauging;
mod pages;
mod sheets;
mod shop;
mod strangers;
