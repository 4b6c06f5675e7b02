//go:build kill

package kill

import (
	"bytes"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// site serves the page. It lives as long as the test, so that the origin, and
// with it the database, is the same for every browser.
type site struct {
	t   *testing.T
	url string
	mux *http.ServeMux

	asked func() // hears that a page asks for the program; nil is nobody
}

const document = `<!doctype html><meta charset="utf-8"><title>kill</title><link rel="icon" href="data:,">
<script src="wasm_exec.js"></script><script>
fetch("begin", { method: "POST" });
const go = new Go();
WebAssembly.instantiateStreaming(fetch("page.wasm"), go.importObject).then(r => go.run(r.instance));
</script>`

func newSite(t *testing.T, wasm []byte) *site {
	t.Helper()
	glue, err := os.ReadFile(filepath.Join(goEnv(t, "GOROOT"), "lib", "wasm", "wasm_exec.js"))
	require.NoError(t, err)
	s := &site{t: t, mux: http.NewServeMux()}
	s.file("/{$}", "text/html", []byte(document))
	s.file("/wasm_exec.js", "text/javascript", glue)
	s.file("/page.wasm", "application/wasm", wasm)
	s.hear("/begin", func(string) string {
		if s.asked != nil {
			s.asked()
		}
		return ""
	})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	server := &http.Server{Handler: s.mux}
	go server.Serve(listener)
	t.Cleanup(func() { server.Close() })
	s.url = "http://" + listener.Addr().String() + "/"
	return s
}

func (s *site) file(path, kind string, content []byte) {
	s.mux.HandleFunc("GET "+path, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Cache-Control", "max-age=3600")
		http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(content))
	})
}

// hear registers what is done with the texts that the page posts to a path.
func (s *site) hear(path string, do func(text string) string) {
	s.mux.HandleFunc("POST "+path, func(w http.ResponseWriter, r *http.Request) {
		text, err := io.ReadAll(r.Body)
		if err != nil {
			return // killed while it was sending
		}
		io.WriteString(w, do(string(text)))
	})
}

func goEnv(t *testing.T, name string) string {
	out, err := exec.Command("go", "env", name).Output()
	require.NoError(t, err)
	return strings.TrimSpace(string(out))
}

func build(t *testing.T) []byte {
	t.Helper()
	target := filepath.Join(t.TempDir(), "page.wasm")
	cmd := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", target, "./page")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	wasm, err := os.ReadFile(target)
	require.NoError(t, err)
	return wasm
}

// browser is one Chromium of ours, in a process group of its own.
type browser struct {
	cmd  *exec.Cmd
	done chan struct{}
}

func chromium(t *testing.T) string {
	if path := os.Getenv("CHROMIUM"); path != "" {
		return path
	}
	path, err := exec.LookPath("chromium")
	require.NoError(t, err, "set CHROMIUM to the browser's path")
	return path
}

func flags(profile string) []string {
	return []string{
		"--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-extensions", "--disable-sync",
		"--disable-breakpad", "--mute-audio", "--user-data-dir=" + profile,
	}
}

func launch(t *testing.T, profile, url string) *browser {
	t.Helper()
	b := &browser{cmd: exec.Command(chromium(t), append(flags(profile), url)...), done: make(chan struct{})}
	b.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	require.NoError(t, b.cmd.Start())
	go func() {
		_ = b.cmd.Wait()
		close(b.done)
	}()
	return b
}

// kill ends the browser's process group at once and waits until it is gone.
func (b *browser) kill() {
	_ = syscall.Kill(-b.cmd.Process.Pid, syscall.SIGKILL)
	<-b.done
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end) && alive(b.cmd.Process.Pid); {
		time.Sleep(5 * time.Millisecond)
	}
}

// alive tells whether a process group can still write. One that has ended and
// that nobody has waited for yet cannot, but counts as there for a signal.
func alive(group int) bool {
	if syscall.Kill(-group, 0) != nil {
		return false
	}
	threads, err := filepath.Glob("/proc/[0-9]*/task/[0-9]*/stat")
	if err != nil || len(threads) == 0 {
		return true // another system than Linux: the signal's answer must do
	}
	for _, path := range threads {
		if stat, err := os.ReadFile(path); err == nil && running(string(stat), group) {
			return true
		}
	}
	return false
}

// running reads a line of /proc/PID/task/TID/stat: number, name in brackets,
// state, parent, group (proc_pid_stat(5)).
func running(stat string, group int) bool {
	fields := strings.Fields(stat[strings.LastIndexByte(stat, ')')+1:])
	return len(fields) > 2 && fields[2] == strconv.Itoa(group) && fields[0] != "Z" && fields[0] != "X"
}
