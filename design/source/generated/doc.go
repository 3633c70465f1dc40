// Package generated supports tests and benchmarks: it makes plans of any size that
// are consistent and clean, so that time and memory can be measured as a plan grows.
package generated
