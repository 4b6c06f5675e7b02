//go:build e2e

package e2e

import (
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tremblant/internal/site"
)

// Server serves a built site on a port of its own. It can be killed, as when
// the network goes, started again on the same port, and given another build.
type Server struct {
	t       testing.TB
	address string
	prefix  string

	mu      sync.Mutex
	handler http.Handler
	server  *http.Server // nil while killed
	answers []Answer
}

// Answer is what the server said to one request.
type Answer struct {
	Path   string
	Status int
}

// Dist is the site that make build has written.
func Dist(t testing.TB) string {
	t.Helper()
	dir, err := filepath.Abs("../../dist")
	require.NoError(t, err)
	require.FileExists(t, filepath.Join(dir, "index.html"), "run make build first")
	return dir
}

// Variant builds another site: o says in what it differs. Root, Out and
// Compress are set here.
func Variant(t testing.TB, o site.Options) string {
	t.Helper()
	o.Root, o.Out, o.Compress = "../..", filepath.Join(t.TempDir(), "dist"), site.Fast
	_, err := site.Build(o)
	require.NoError(t, err)
	return o.Out
}

// Web copies the page's sources, for a test to change.
func Web(t testing.TB) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "web")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../web")))
	return dir
}

// Serve serves a built site at the root of a free port.
func Serve(t testing.TB, dir string) *Server { return ServeAt(t, dir, "/") }

// ServeAt serves a built site below a path, which begins and ends with a slash.
func ServeAt(t testing.TB, dir, prefix string) *Server {
	t.Helper()
	s := &Server{t: t, address: "localhost:0", prefix: prefix}
	s.Use(dir)
	s.Start()
	t.Cleanup(s.Kill)
	return s
}

// Use serves another built site from now on.
func (s *Server) Use(dir string) {
	s.t.Helper()
	handler, err := site.Handler(dir)
	require.NoError(s.t, err)
	s.UseHandler(handler)
}

// BeforeProgram puts a script before that of the worker the page's program runs in,
// in every page that is served from now on.
func (s *Server) BeforeProgram(script string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.handler = prefixed{s.handler, script}
}

type prefixed struct {
	http.Handler
	script string
}

// ServeHTTP writes the script before the answer, which is then not compressed.
func (p prefixed) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !programScript.MatchString(r.URL.Path) {
		p.Handler.ServeHTTP(w, r)
		return
	}
	plain := r.Clone(r.Context())
	plain.Header.Del("Accept-Encoding")
	plain.Header.Del("If-None-Match")
	plain.Header.Del("If-Modified-Since")
	p.Handler.ServeHTTP(&prefixWriter{ResponseWriter: w, script: p.script + "\n"}, plain)
}

var programScript = regexp.MustCompile(`^/program\.[0-9a-f]+\.js$`)

type prefixWriter struct {
	http.ResponseWriter
	script string // what is still to be written first
}

// WriteHeader takes the length of what follows away: it has grown.
func (w *prefixWriter) WriteHeader(status int) {
	w.Header().Del("Content-Length")
	w.ResponseWriter.WriteHeader(status)
}

// Write writes the script first.
func (w *prefixWriter) Write(b []byte) (int, error) {
	if w.script != "" {
		script := w.script
		w.script = ""
		if _, err := io.WriteString(w.ResponseWriter, script); err != nil {
			return 0, err
		}
	}
	return w.ResponseWriter.Write(b)
}

// UseHandler serves something of the test's own from now on, below the prefix.
func (s *Server) UseHandler(handler http.Handler) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.handler = http.StripPrefix(strings.TrimSuffix(s.prefix, "/"), handler)
}

// Start begins to answer, on the port of before if there was one.
func (s *Server) Start() {
	s.t.Helper()
	listener, err := net.Listen("tcp", s.address)
	require.NoError(s.t, err)
	s.address = listener.Addr().String()
	server := &http.Server{Handler: s}
	s.server = server
	go func() { _ = server.Serve(listener) }()
}

// Kill ends the server and all its connections at once.
func (s *Server) Kill() {
	if s.server != nil {
		_ = s.server.Close()
		s.server = nil
	}
}

// ServeHTTP answers and notes what it said.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	handler := s.handler
	s.mu.Unlock()
	noting := &statusWriter{ResponseWriter: w, status: http.StatusOK}
	handler.ServeHTTP(noting, r)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.answers = append(s.answers, Answer{r.URL.Path, noting.status})
}

type statusWriter struct {
	http.ResponseWriter
	status int
}

// WriteHeader notes the status and passes it on.
func (w *statusWriter) WriteHeader(status int) {
	w.status = status
	w.ResponseWriter.WriteHeader(status)
}

// URL is where the page is.
func (s *Server) URL() string {
	_, port, _ := net.SplitHostPort(s.address)
	return "http://localhost:" + port + s.prefix
}

// Answers lists what was asked for and said since the last call.
func (s *Server) Answers() []Answer {
	s.mu.Lock()
	defer s.mu.Unlock()
	answers := s.answers
	s.answers = nil
	return answers
}
