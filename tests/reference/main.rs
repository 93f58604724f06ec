//! Checks against the outside, one file per source.

mod common_practice;
mod common_practice_controls;
mod common_practice_modules;
mod highs_feeds;
mod highs_together;
mod ngspice_demo;
mod photos_client;
mod photos_exif;
mod photos_geodesics;
mod photos_places;
mod photos_thumbnails;
