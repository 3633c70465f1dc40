package preview_test

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"plansheaf/design/finding"
	"plansheaf/publish/preview"
	"plansheaf/publish/release"
)

// A bench is a server whose builds the test hands out one by one.
type bench struct {
	url     string
	changes chan struct{}
	stop    func() error

	mu   sync.Mutex
	next preview.Built
}

func (b *bench) set(next preview.Built) {
	b.mu.Lock()
	b.next = next
	b.mu.Unlock()
}

// change lets the server build again.
func (b *bench) change(next preview.Built) {
	b.set(next)
	b.changes <- struct{}{}
}

func start(t *testing.T, first preview.Built) *bench {
	t.Helper()
	b := &bench{changes: make(chan struct{}), next: first}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	b.url = "http://" + l.Addr().String()
	s := preview.New(func() preview.Built {
		b.mu.Lock()
		defer b.mu.Unlock()
		return b.next
	})
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, l, b.changes) }()
	var once sync.Once
	var failed error
	b.stop = func() error {
		once.Do(func() { cancel(); failed = <-ended })
		return failed
	}
	t.Cleanup(func() { b.stop() })
	return b
}

func page(text string, findings ...finding.Finding) preview.Built {
	const before = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'"><title>T</title></head><body><h1>`
	return preview.Built{
		Files:    []release.File{{Path: "index.html", Data: []byte(before + text + "</h1>" + strings.Repeat("<p>line</p>", 200) + "</body></html>")}, {Path: "lists/parts.csv", Data: []byte("a,b\n")}},
		Findings: findings,
	}
}

// get asks for a path, with another host's name where one is given.
func (b *bench) get(t *testing.T, method, path, host string) (status int, head http.Header, body string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, b.url+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if host != "" {
		r.Host = host
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, answer.Header, string(text)
}

type told struct {
	Version  int
	Failure  string
	Findings []struct{ Message string }
}

// state waits for a build after the one of a version.
func (b *bench) state(t *testing.T, after string) (s told) {
	t.Helper()
	status, _, body := b.get(t, http.MethodGet, "/-preview/state?after="+after, "")
	if err := json.Unmarshal([]byte(body), &s); status != http.StatusOK || err != nil {
		t.Fatalf("%d %v: %s", status, err, body)
	}
	return s
}

func TestRequests(t *testing.T) {
	b := start(t, page("first"))
	b.state(t, "0")
	port := b.url[strings.LastIndex(b.url, ":"):]
	cases := []struct {
		name, method, path, host string
		status                   int
		holds                    string
	}{
		{name: "the front page", path: "/", status: 200, holds: "<h1>first</h1>"},
		{name: "it waits for the next build", path: "/index.html", status: 200, holds: `data-version="1"`},
		{name: "and may ask for it", path: "/", status: 200, holds: "connect-src 'self'"},
		{name: "a file as it is", path: "/lists/parts.csv", status: 200, holds: "a,b\n"},
		{name: "the script", path: "/-preview/preview.js", status: 200, holds: "use strict"},
		{name: "no listing", path: "/-preview/", status: 404},
		{name: "what is not there", path: "/nothing.html", status: 404, holds: "Nothing is published under nothing.html"},
		{name: "words are not markup", path: "/<script>alert(1)</script>", status: 404, holds: "&lt;script&gt;"},
		{name: "no way up", path: "/../../etc/passwd", status: 404, holds: "etc/passwd"},
		{name: "by the name localhost", path: "/", host: "localhost" + port, status: 200, holds: "first"},
		{name: "a foreign name that leads here", path: "/", host: "evil.example" + port, status: 403, holds: "localhost only"},
		{name: "another port's name", path: "/", host: "localhost:1", status: 403},
		{name: "no port", path: "/", host: "localhost", status: 403},
		{name: "a foreign name asks for the state", path: "/-preview/state?after=0", host: "evil.example", status: 403},
		{name: "nothing is written", method: http.MethodPost, path: "/", status: 405},
		{name: "head", method: http.MethodHead, path: "/", status: 200},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			method := c.method
			if method == "" {
				method = http.MethodGet
			}
			status, head, body := b.get(t, method, c.path, c.host)
			if status != c.status || !strings.Contains(body, c.holds) {
				t.Errorf("%d: %s\nwant %d and %q", status, body, c.status, c.holds)
			}
			if head.Get("Cache-Control") != "no-store" || head.Get("Access-Control-Allow-Origin") != "" {
				t.Errorf("headers %v", head)
			}
		})
	}
}

// A build that fails leaves the last publication standing; the next one replaces it.
func TestBuilds(t *testing.T) {
	b := start(t, preview.Built{Err: errors.New("no plan here")})
	if s := b.state(t, "0"); s.Version != 1 || s.Failure != "no plan here" {
		t.Errorf("%+v", s)
	}
	if status, _, body := b.get(t, http.MethodGet, "/", ""); status != 404 || !strings.Contains(body, "preview.js") {
		t.Errorf("%d %s", status, body)
	}
	b.change(page("second", finding.Finding{Message: "too short"}, finding.Finding{Message: "known", Waived: &finding.Waiver{}}))
	if s := b.state(t, "1"); s.Version != 2 || s.Failure != "" || len(s.Findings) != 1 || s.Findings[0].Message != "too short" {
		t.Errorf("%+v", s)
	}
	b.change(preview.Built{Err: errors.New("half saved")})
	if s := b.state(t, "2"); s.Failure != "half saved" {
		t.Errorf("%+v", s)
	}
	if _, _, body := b.get(t, http.MethodGet, "/", ""); !strings.Contains(body, "second") {
		t.Errorf("the last publication is gone: %s", body)
	}
}

// The server ends soon and without an error, with a page still waiting.
func TestEndsCleanly(t *testing.T) {
	b := start(t, page("first"))
	b.state(t, "0")
	waiting := make(chan struct{})
	go func() {
		defer close(waiting)
		if answer, err := http.Get(b.url + "/-preview/state?after=1"); err == nil {
			answer.Body.Close()
		}
	}()
	time.Sleep(50 * time.Millisecond)
	if err := b.stop(); err != nil {
		t.Error(err)
	}
	<-waiting
}
