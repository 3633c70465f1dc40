package preview

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"
)

// quiet is how long nothing may change before a change is told: editors write a file
// in several goes.
const quiet = 150 * time.Millisecond

// mostWatched bounds the folders that are watched.
const mostWatched = 5000

// Watch tells on a channel when something in a plan's directory has changed, until the
// context ends; several changes in short order are told once. The directory may go and
// come back.
func Watch(ctx context.Context, dir string) (<-chan struct{}, error) {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("watch %q: %w", dir, err)
	}
	watched := &watcher{w: w, dir: dir}
	if err := watched.add(); err != nil {
		w.Close()
		return nil, fmt.Errorf("watch %q: %w", dir, err)
	}
	changes := make(chan struct{}, 1)
	go watched.run(ctx, changes)
	return changes, nil
}

type watcher struct {
	w   *fsnotify.Watcher
	dir string
}

// add watches the directory, its folders, and the one above, which tells when the
// directory itself is replaced. Links are not followed, as reading does not.
func (w *watcher) add() error {
	above, err := filepath.Abs(filepath.Join(w.dir, ".."))
	if err != nil {
		return err
	}
	if err := w.w.Add(above); err != nil {
		return err
	}
	watched := 0
	return filepath.WalkDir(w.dir, func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return nil // a folder that went away meanwhile is told of by the one above
		}
		if watched++; watched > mostWatched {
			return fs.SkipAll
		}
		if err := w.w.Add(name); err != nil && !os.IsNotExist(err) {
			return err
		}
		return nil
	})
}

func (w *watcher) run(ctx context.Context, changes chan<- struct{}) {
	defer w.w.Close()
	timer := time.NewTimer(quiet)
	timer.Stop()
	defer timer.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case e, open := <-w.w.Events:
			if !open {
				return
			}
			if w.concerns(e.Name) && !e.Op.Has(fsnotify.Chmod) {
				timer.Reset(quiet)
			}
		case _, open := <-w.w.Errors: // events were lost: look anew
			if !open {
				return
			}
			timer.Reset(quiet)
		case <-timer.C:
			w.add() // new folders; what cannot be watched now is tried at the next change
			select {
			case changes <- struct{}{}:
			default: // one is waiting to be seen already
			}
		}
	}
}

// concerns reports whether a name is the plan's directory or lies within.
func (w *watcher) concerns(name string) bool {
	dir, err := filepath.Abs(w.dir)
	if err != nil {
		return true
	}
	if name, err = filepath.Abs(name); err != nil {
		return true
	}
	rel, err := filepath.Rel(dir, name)
	return err != nil || rel == "." || filepath.IsLocal(rel)
}
