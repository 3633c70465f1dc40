// Package release puts a publication in a folder in one move, packs it into an archive,
// and looks into either again.
//
// In go named contents and a folder; the new publication is written in full beside
// it and then takes its place, so that whenever a run is interrupted a whole one
// stands, the old or the new. Where the system can exchange two folders (Linux,
// macOS) the place is never empty; elsewhere the old one stands aside for a moment
// and the next run puts it back if that moment was the last. A list of every file
// with its SHA-256 is written with it. What the program did not write it never
// deletes: a folder that holds other people's files and no list is refused, and files
// added to a publication later are carried over. One run at a time has the place.
//
// What is looked into is hostile until proven otherwise: nothing of it is written
// anywhere, no link is followed, and its sizes and counts are bounded.
package release
