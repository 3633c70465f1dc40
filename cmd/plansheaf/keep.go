package main

import (
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"github.com/spf13/cobra"

	"plansheaf/design/memo"
	"plansheaf/design/memo/cache"
)

// keepingHelp is told by the help of the commands that keep results.
const keepingHelp = "What was worked out is kept for the next run, which does anew only what a change touches and\n" +
	"comes to the same bytes: in the user's own folder for such files, or in that of --cache."

// A keeping says where what was worked out is kept from one run to the next.
type keeping struct {
	folder string
	none   bool
}

// flags adds the flags of a command that keeps results.
func (k *keeping) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&k.folder, "cache", "", "the folder to keep what was worked out in, one that only you write to")
	cmd.Flags().BoolVar(&k.none, "no-cache", false, "work everything out anew, keep nothing")
	cmd.MarkFlagsMutuallyExclusive("cache", "no-cache")
	cmd.MarkFlagDirname("cache")
}

// A kept is what earlier runs have kept of a plan. One of nothing keeps nothing.
type kept struct {
	pack   *cache.Pack
	store  *memo.Store
	loaded sync.WaitGroup
	tell   io.Writer // told why nothing can be kept
}

// open begins to load what was kept of the plan in dir. That nothing can be kept in a
// folder that was named is told later.
func (k keeping) open(dir string, tell io.Writer) *kept {
	out := &kept{tell: tell}
	folder := k.folder
	if folder == "" {
		folder, out.tell = usersFolder(), io.Discard
	}
	if k.none || folder == "" {
		return out
	}
	plan, err := filepath.Abs(dir)
	if err != nil {
		return out
	}
	if real, err := filepath.EvalSymlinks(plan); err == nil {
		plan = real
	}
	out.loaded.Go(func() {
		if program, err := programKey(); err == nil {
			out.pack = cache.In(folder, plan, program)
			out.store = out.pack.Load()
		}
	})
	return out
}

// usersFolder is where a user's programs keep what can be made again; empty where there is
// no such place. The home of a user who has none is not made.
func usersFolder() string {
	all, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	if home, err := os.Stat(filepath.Dir(all)); err != nil || !home.IsDir() {
		return ""
	}
	return filepath.Join(all, "plansheaf")
}

// programKey stands for this program: the hash of its bytes.
var programKey = sync.OnceValues(func() (key memo.Key, err error) {
	name, err := os.Executable()
	if err != nil {
		return key, err
	}
	f, err := os.Open(name)
	if err != nil {
		return key, err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return key, err
	}
	return memo.Key(sum.Sum(nil)), nil
})

// results is the store, once it is loaded; nil where nothing is kept.
func (k *kept) results() *memo.Store {
	k.loaded.Wait()
	return k.store
}

// aged begins another run after that of a plan: after one that had the plan whole what it
// did not ask for is older.
func (k *kept) aged(l *loaded, published bool) {
	switch store := k.results(); {
	case store == nil || l.partial:
	case published:
		store.Next()
	default:
		store.NextOfPart()
	}
}

// save keeps what there is now for the next run, if anything is new. That it cannot be
// kept is no failure of the run.
func (k *kept) save() {
	store := k.results()
	if store == nil || !store.Changed() {
		return
	}
	if err := k.pack.Save(store); err != nil {
		fmt.Fprintf(k.tell, "plansheaf: %v\n", err)
	}
}
