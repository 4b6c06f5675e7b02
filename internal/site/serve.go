package site

import (
	"errors"
	"fmt"
	"io/fs"
	"mime"
	"net"
	"net/http"
	"os"
	"path"
	"regexp"
	"strconv"
	"strings"
	"syscall"
)

var hashed = regexp.MustCompile(`\.[0-9a-f]{` + strconv.Itoa(hashDigits) + `}\.[a-z0-9]+$`)

// mimeTypes says what the files are, so that the answer does not depend on the
// machine's own tables; a wrong type for .wasm costs the streaming compiler.
var mimeTypes = map[string]string{
	".html":        "text/html; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".json":        "application/json",
	".webmanifest": "application/manifest+json",
	".wasm":        "application/wasm",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".txt":         "text/plain; charset=utf-8",
}

// Handler serves a built site as a good static host would: right types, the
// compressed twin that the browser accepts, hashed names for ever, all others
// asked for anew, and the security headers of the page. A site that is built
// again while it is served is served anew.
func Handler(dir string) (http.Handler, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return handler{dir}, root.Close()
}

type handler struct{ dir string }

// ServeHTTP answers GET and HEAD for the files of the site and nothing else.
func (h handler) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	secure(w.Header())
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "method not allowed", http.StatusMethodNotAllowed)
		return
	}
	root, err := os.OpenRoot(h.dir) // each time: a build puts a new folder in place
	if err != nil {
		http.Error(w, "the site is not there", http.StatusServiceUnavailable)
		return
	}
	defer root.Close()
	name := fileFor(r.URL.Path)
	if name == page {
		guard(w.Header(), policyOf(root.FS()))
	}
	if !servable(name) || !send(w, r, root.FS(), name) {
		http.NotFound(w, r)
	}
}

func secure(header http.Header) {
	guard(header, CSP)
	header.Set("X-Content-Type-Options", "nosniff")
	header.Set("Referrer-Policy", "no-referrer")
	header.Set("Cross-Origin-Opener-Policy", "same-origin")
	header.Set("Cross-Origin-Resource-Policy", "same-origin")
}

func guard(header http.Header, policy string) {
	header.Set("Content-Security-Policy", policy+"; frame-ancestors 'none'")
}

var statedPolicy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`)

// policyOf is the policy that the page states itself, which allows the stylesheet in
// it; a page that states none gets that of all other files.
func policyOf(files fs.FS) string {
	html, err := fs.ReadFile(files, page)
	if m := statedPolicy.FindSubmatch(html); err == nil && m != nil {
		return string(m[1])
	}
	return CSP
}

func fileFor(urlPath string) string {
	name := strings.TrimPrefix(urlPath, "/")
	if name == "" {
		return page
	}
	return name
}

// servable refuses names outside the folder, hidden files, and the compressed
// twins, which are answers to other names.
func servable(name string) bool {
	if !fs.ValidPath(name) || strings.HasPrefix(path.Base(name), ".") {
		return false
	}
	return path.Ext(name) != ".br" && path.Ext(name) != ".gz"
}

// send serves the smallest accepted form of a file; false when there is none.
func send(w http.ResponseWriter, r *http.Request, files fs.FS, name string) bool {
	w.Header().Set("Content-Type", typeOf(name))
	w.Header().Set("Cache-Control", cacheControl(name))
	if compressible(name) {
		w.Header().Set("Vary", "Accept-Encoding")
		accept := r.Header.Get("Accept-Encoding")
		for _, twin := range []struct{ coding, ext string }{{"br", ".br"}, {"gzip", ".gz"}} {
			if accepts(accept, twin.coding) && sendFile(w, r, files, name+twin.ext, twin.coding) {
				return true
			}
		}
	}
	if sendFile(w, r, files, name, "") {
		return true
	}
	w.Header().Del("Cache-Control")
	return false
}

func sendFile(w http.ResponseWriter, r *http.Request, files fs.FS, name, coding string) bool {
	file, err := files.Open(name)
	if err != nil {
		return false
	}
	defer file.Close()
	info, err := file.Stat()
	content, seekable := file.(interface {
		fs.File
		Seek(int64, int) (int64, error)
	})
	if err != nil || info.IsDir() || !seekable {
		return false
	}
	if coding != "" {
		w.Header().Set("Content-Encoding", coding)
	}
	w.Header().Set("ETag", fmt.Sprintf(`"%x-%x%s"`, info.ModTime().UnixNano(), info.Size(), coding))
	http.ServeContent(w, r, "", info.ModTime(), content)
	return true
}

func typeOf(name string) string {
	ext := path.Ext(name)
	if t, ok := mimeTypes[ext]; ok {
		return t
	}
	if t := mime.TypeByExtension(ext); t != "" {
		return t
	}
	return "application/octet-stream"
}

func cacheControl(name string) string {
	if hashed.MatchString(name) {
		return "public, max-age=31536000, immutable"
	}
	return "no-cache"
}

// accepts reports whether an Accept-Encoding header takes a coding: named, or
// meant by a star, and not with a weight of zero (RFC 9110, 12.5.3).
func accepts(header, coding string) bool {
	star := false
	for _, item := range strings.Split(header, ",") {
		name, params, _ := strings.Cut(item, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		if name == coding {
			return weight(params) > 0
		}
		if name == "*" {
			star = weight(params) > 0
		}
	}
	return star
}

func weight(params string) float64 {
	key, value, ok := strings.Cut(strings.TrimSpace(params), "=")
	if !ok || !strings.EqualFold(strings.TrimSpace(key), "q") {
		return 1
	}
	q, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	if err != nil {
		return 0
	}
	return q
}

// Listen opens the wanted port of a host, or a free one when it is taken.
func Listen(host string, port int) (net.Listener, error) {
	l, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(port)))
	if errors.Is(err, syscall.EADDRINUSE) {
		return net.Listen("tcp", net.JoinHostPort(host, "0"))
	}
	return l, err
}
