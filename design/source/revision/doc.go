// Package revision opens a revision of a plan, wherever it is kept: a directory, a
// release archive with the plan's own source inside, or a branch, tag or commit of the
// git repository that the plan lives in.
//
// In goes what a person writes, "my-press", "press-C.zip", "main", "v2:plans/press"; out
// comes a file system that package source reads. A repository is read object by object:
// nothing is checked out, written, fetched or run. An archive is read where it lies.
//
// What is opened may be hostile: paths that lead elsewhere are refused, links are shown
// as links and not followed (reading refuses them), and the number of files, their depth
// and the size of an archive's directory are bounded; what a file holds is read only as
// far as reading asks, which bounds it.
package revision
