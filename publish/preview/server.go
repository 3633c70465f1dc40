package preview

import (
	"bytes"
	"context"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"html"
	"mime"
	"net"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"

	"plansheaf/design/finding"
	"plansheaf/publish/release"
)

// A Built is what a build came to.
type Built struct {
	Files    []release.File
	Findings []finding.Finding
	Err      error // why there are no files
}

// A Server serves what a build makes, and builds again when told.
type Server struct {
	build func() Built
	Built func(Built, time.Duration) // told of each build; may be nil

	mu       sync.Mutex
	version  int // counts builds; pages wait for the next
	files    map[string][]byte
	findings []finding.Finding
	failure  string
	next     chan struct{} // closed when version goes up
}

// New is a server that has built nothing yet.
func New(build func() Built) *Server {
	return &Server{build: build, files: map[string][]byte{}, next: make(chan struct{})}
}

// Serve builds, answers requests on l, and builds again for each change, until the
// context ends. The error is the listener's; none for a context that ended.
func (s *Server) Serve(ctx context.Context, l net.Listener, changes <-chan struct{}) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	server := &http.Server{
		Handler: s.Handler(l.Addr()), ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 1 << 16,
		BaseContext: func(net.Listener) context.Context { return ctx },
	}
	var building sync.WaitGroup
	building.Go(func() {
		s.make()
		for {
			select {
			case <-ctx.Done():
				return
			case <-changes:
				s.make()
			}
		}
	})
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	var err error
	select {
	case err = <-ended:
	case <-ctx.Done():
		last, done := context.WithTimeout(context.WithoutCancel(ctx), 2*time.Second)
		err = server.Shutdown(last)
		done()
		if errors.Is(err, context.DeadlineExceeded) {
			err = server.Close()
		}
	}
	stop()
	building.Wait()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// make builds and tells the pages that wait.
func (s *Server) make() {
	began := time.Now()
	built := s.build()
	s.mu.Lock()
	s.findings, s.failure = built.Findings, ""
	if built.Err != nil {
		s.failure = built.Err.Error()
	} else {
		s.files = make(map[string][]byte, len(built.Files))
		for _, f := range built.Files {
			s.files[f.Path] = f.Data
		}
	}
	s.version++
	close(s.next)
	s.next = make(chan struct{})
	s.mu.Unlock()
	if s.Built != nil {
		s.Built(built, time.Since(began))
	}
}

//go:embed preview.js preview.css
var client embed.FS

// own is where the server's own files stand, beside those of the publication.
const own = "/-preview/"

// Handler answers requests that name this machine and the address's port.
func (s *Server) Handler(addr net.Addr) http.Handler {
	_, port, err := net.SplitHostPort(addr.String())
	hosts := map[string]bool{}
	if err == nil {
		for _, name := range []string{"localhost", "127.0.0.1", "[::1]"} {
			hosts[name+":"+port] = true
		}
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Cache-Control", "no-store")
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		switch {
		case !hosts[strings.ToLower(r.Host)]:
			http.Error(w, "this preview answers to localhost only", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			head.Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		case r.URL.Path == own+"state":
			s.state(w, r)
		case strings.HasPrefix(r.URL.Path, own):
			s.client(w, r, strings.TrimPrefix(r.URL.Path, own))
		default:
			s.file(w, r)
		}
	})
}

// A state is what a page is told of the last build.
type state struct {
	Version  int               `json:"version"`
	Failure  string            `json:"failure"`
	Findings []finding.Finding `json:"findings"`
}

// longest is how long a page's question is held when nothing changes.
const longest = 25 * time.Second

// state answers once there is a newer build than the one that the page has.
func (s *Server) state(w http.ResponseWriter, r *http.Request) {
	var have int
	fmt.Sscanf(r.URL.Query().Get("after"), "%d", &have)
	wait := time.NewTimer(longest)
	defer wait.Stop()
	for {
		s.mu.Lock()
		now, next := state{s.version, s.failure, s.findings}, s.next
		s.mu.Unlock()
		if now.Version != have {
			answer(w, now)
			return
		}
		select {
		case <-next:
		case <-wait.C:
			answer(w, now)
			return
		case <-r.Context().Done():
			return
		}
	}
}

func answer(w http.ResponseWriter, now state) {
	var shown []finding.Finding
	for _, f := range now.Findings {
		if f.Waived == nil {
			shown = append(shown, f)
		}
	}
	now.Findings = shown
	w.Header().Set("Content-Type", "application/json")
	json.NewEncoder(w).Encode(now) // a reader who went away is no fault
}

// file serves a file of the last publication.
func (s *Server) file(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
	if name == "" || strings.HasSuffix(r.URL.Path, "/") {
		name = path.Join(name, "index.html")
	}
	s.mu.Lock()
	data, found := s.files[name]
	version := s.version
	s.mu.Unlock()
	if !found && name == "favicon.ico" { // browsers ask for it unasked
		w.WriteHeader(http.StatusNoContent)
		return
	}
	status := http.StatusOK
	if !found {
		status, name, data = http.StatusNotFound, "missing.html", missing(name, version)
	}
	if path.Ext(name) == ".html" {
		data = watching(data, version)
	}
	send(w, r, status, name, data)
}

// client serves one of the server's own files.
func (s *Server) client(w http.ResponseWriter, r *http.Request, name string) {
	data, err := client.ReadFile(name)
	if err != nil {
		send(w, r, http.StatusNotFound, "missing.txt", []byte("no such file\n"))
		return
	}
	send(w, r, http.StatusOK, name, data)
}

func send(w http.ResponseWriter, r *http.Request, status int, name string, data []byte) {
	kind := mime.TypeByExtension(path.Ext(name))
	if kind == "" {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	if r.Method == http.MethodGet {
		w.Write(data) // a reader who went away is no fault
	}
}

// missing is shown in place of a page that is not there: not yet, or no longer.
func missing(name string, version int) []byte {
	say := "Nothing is published under " + name + "."
	if version == 0 {
		say = "The plan is being worked out."
	}
	return []byte("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>Preview</title></head><body><h1>Preview</h1><p>" +
		html.EscapeString(say) + "</p></body></html>\n")
}

// watching is a page with the script that waits for the next build. A page's own
// policy lets it ask nobody; here it may ask this server.
func watching(page []byte, version int) []byte {
	page = bytes.Replace(page, []byte(`content="default-src 'none';`), []byte(`content="default-src 'none'; connect-src 'self';`), 1)
	tags := fmt.Sprintf(`<link rel="stylesheet" href="%spreview.css"><script src="%spreview.js" data-version="%d" defer></script></head>`, own, own, version)
	return bytes.Replace(page, []byte("</head>"), []byte(tags), 1)
}
