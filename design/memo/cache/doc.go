// Package cache keeps stores of results in a folder from one run to the next, one file
// for each plan.
//
//	pack := cache.In(folder, plan, program)
//	store := pack.Load()
//	... a run with the store ...
//	err := pack.Save(store)
//
// What is kept never keeps a run from going through: a file that is missing, cut off,
// another program's or no file of ours counts as nothing kept, and the next save replaces
// it. Several runs may load and save at a time; each file is whole at any moment, and the
// last one to save decides what it holds. Files are the user's alone. Links in the folder
// are not followed. Of many plans, those that were not saved for the longest are let go of.
package cache
