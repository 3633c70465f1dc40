// Package wording holds what the publication says in its own words, in each language
// that there is a table for: heads, labels, sentences of the pages, the site and the
// binder. The words of the plan are its author's and pass through untouched.
//
// The English words are themselves the keys, so code reads as the page does. The
// table stands in themes/words.csv: a row a phrase, a column a language. What a
// language's author must know stands there too: verbs such as %s and %d stand for
// what is put in, and what follows a bar tells apart words that are one in English;
// it is never shown.
package wording
