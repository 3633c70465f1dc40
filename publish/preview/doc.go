// Package preview serves a publication while its plan is being written.
//
//	s := preview.New(build)
//	err := s.Serve(ctx, listener, changes)
//
// Build makes the publication; it is called at the start and after every change that
// the channel tells, changes during a build counting once. The pages are served from
// memory, nothing is written. Each carries a script that waits for the next
// publication and then shows the page anew, where its reader was, and lists the
// findings of the last build. A build that fails leaves the last publication standing
// and says why.
//
// Only readers of this machine are answered: requests with another host's name, as a
// page of a stranger could make them by a name that leads here, are refused.
package preview
