// Package data writes what programs read: lists as CSV, findings as JSON and as
// SARIF, the whole worked-out plan as JSON.
//
// In go the checked work and its findings; out come bytes, the same for the same
// input. Lengths are millimetres, masses kilograms and times minutes, and the
// field's name says so; other quantities are in SI units with their text beside.
package data
