// Package memo keeps what was worked out, found again by a hash of all that it follows
// from.
//
// What costs time is worked out by a function of values that are given to it and nothing
// else. [Do] hashes those values whole, fields that are not exported included, and looks
// in a [Store] before it calls the function; so a result is taken over only where the
// function would give the same one. Nothing is decided by names of files or by times. A
// store goes from one run to the next as bytes ([Store.Save], [Load]), and only to the
// program that wrote it: of another program nothing is taken over.
//
// Values are hashed by [KeyOf]: numbers by their bits, pointers followed, maps whatever
// their order. What has a cheaper hash of its own is [Keyed]. A value that holds a function
// or a channel has no key: what follows from it is worked out each time, and the store says
// so ([Store.Faults]), which tests ask for.
//
// Results are kept as CBOR (RFC 8949), numbers exact, nil and empty lists apart; their
// fields must be exported.
package memo
