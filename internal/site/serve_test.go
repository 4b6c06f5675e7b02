package site

import (
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// served answers one request from a small folder of files.
func served(t *testing.T, method, path string, header ...string) *httptest.ResponseRecorder {
	t.Helper()
	parent := t.TempDir()
	dir := filepath.Join(parent, "dist")
	for name, content := range map[string]string{
		"dist/index.html": "page", "dist/index.html.br": "page in brotli", "dist/index.html.gz": "page in gzip",
		"dist/app.0123456789.wasm": "program", "dist/app.0123456789.wasm.br": "program in brotli",
		"dist/manifest.webmanifest": "{}", "dist/sw.js": "worker", "dist/icons/i.0123456789.png": "icon",
		"dist/.hidden": "hidden", "secret.txt": "secret",
	} {
		file := filepath.Join(parent, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(content), 0o644))
	}
	require.NoError(t, os.Symlink("../secret.txt", filepath.Join(dir, "link.txt")))
	handler, err := Handler(dir)
	require.NoError(t, err)
	request := httptest.NewRequest(method, "http://localhost/", nil)
	request.URL.Path = path
	for i := 0; i < len(header); i += 2 {
		request.Header.Set(header[i], header[i+1])
	}
	recorder := httptest.NewRecorder()
	handler.ServeHTTP(recorder, request)
	return recorder
}

func TestServeTypesAndCaching(t *testing.T) {
	const forever, anew = "public, max-age=31536000, immutable", "no-cache"
	for path, want := range map[string]struct{ mime, cache string }{
		"/":                         {"text/html; charset=utf-8", anew},
		"/index.html":               {"text/html; charset=utf-8", anew},
		"/sw.js":                    {"text/javascript; charset=utf-8", anew},
		"/manifest.webmanifest":     {"application/manifest+json", anew},
		"/app.0123456789.wasm":      {"application/wasm", forever},
		"/icons/i.0123456789.png":   {"image/png", forever},
		"/icons/./i.0123456789.png": {"", ""},
	} {
		r := served(t, http.MethodGet, path)
		if want.mime == "" {
			assert.Equal(t, http.StatusNotFound, r.Code, path)
			continue
		}
		assert.Equal(t, http.StatusOK, r.Code, path)
		assert.Equal(t, want.mime, r.Header().Get("Content-Type"), path)
		assert.Equal(t, want.cache, r.Header().Get("Cache-Control"), path)
		assert.Equal(t, "nosniff", r.Header().Get("X-Content-Type-Options"), path)
		assert.Equal(t, CSP+"; frame-ancestors 'none'", r.Header().Get("Content-Security-Policy"), path)
	}
}

// The page's own policy allows the stylesheet in it; a stricter header would refuse it.
func TestServePageWithItsOwnPolicy(t *testing.T) {
	dir := t.TempDir()
	own := pageCSP([]byte("b{}"))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "index.html"), []byte(`<meta http-equiv="Content-Security-Policy" content="`+own+`">`), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "sw.js"), nil, 0o644))
	handler, err := Handler(dir)
	require.NoError(t, err)
	for path, policy := range map[string]string{"/": own, "/index.html": own, "/sw.js": CSP, "/gone": CSP} {
		r := httptest.NewRecorder()
		handler.ServeHTTP(r, httptest.NewRequest(http.MethodGet, path, nil))
		assert.Equal(t, policy+"; frame-ancestors 'none'", r.Header().Get("Content-Security-Policy"), path)
	}
}

func TestServeNegotiatesCompression(t *testing.T) {
	for name, c := range map[string]struct{ path, accept, coding, body string }{
		"brotli first":       {"/", "gzip, deflate, br", "br", "page in brotli"},
		"gzip":               {"/", "gzip", "gzip", "page in gzip"},
		"brotli refused":     {"/", "br;q=0, gzip;q=0.5", "gzip", "page in gzip"},
		"anything":           {"/", "*", "br", "page in brotli"},
		"nothing":            {"/", "", "", "page"},
		"broken weight":      {"/", "br;q=x", "", "page"},
		"all refused":        {"/", "*;q=0", "", "page"},
		"twin missing":       {"/app.0123456789.wasm", "gzip", "", "program"},
		"not compressible":   {"/icons/i.0123456789.png", "br", "", "icon"},
		"upper case, spaces": {"/", " BR ; Q=1 ", "br", "page in brotli"},
	} {
		t.Run(name, func(t *testing.T) {
			r := served(t, http.MethodGet, c.path, "Accept-Encoding", c.accept)
			assert.Equal(t, c.coding, r.Header().Get("Content-Encoding"))
			assert.Equal(t, c.body, r.Body.String())
		})
	}
	assert.Equal(t, "Accept-Encoding", served(t, http.MethodGet, "/").Header().Get("Vary"))
}

func TestServeRevalidates(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "sw.js"), []byte("worker"), 0o644))
	handler, err := Handler(dir)
	require.NoError(t, err)
	ask := func(etag string) *httptest.ResponseRecorder {
		request := httptest.NewRequest(http.MethodGet, "/sw.js", nil)
		request.Header.Set("If-None-Match", etag)
		r := httptest.NewRecorder()
		handler.ServeHTTP(r, request)
		return r
	}
	etag := ask("").Header().Get("ETag")
	require.NotEmpty(t, etag)
	assert.Equal(t, http.StatusNotModified, ask(etag).Code)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "sw.js"), []byte("a newer worker"), 0o644))
	assert.Equal(t, http.StatusOK, ask(etag).Code)
}

func TestServeRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		method, path string
		code         int
	}{
		"writing":           {http.MethodPost, "/", http.StatusMethodNotAllowed},
		"nothing there":     {http.MethodGet, "/nope", http.StatusNotFound},
		"a folder":          {http.MethodGet, "/icons", http.StatusNotFound},
		"a folder, slashed": {http.MethodGet, "/icons/", http.StatusNotFound},
		"outside":           {http.MethodGet, "/../secret.txt", http.StatusNotFound},
		"outside by a link": {http.MethodGet, "/link.txt", http.StatusNotFound},
		"hidden":            {http.MethodGet, "/.hidden", http.StatusNotFound},
		"a twin":            {http.MethodGet, "/index.html.br", http.StatusNotFound},
		"two slashes":       {http.MethodGet, "//index.html", http.StatusNotFound},
	} {
		t.Run(name, func(t *testing.T) {
			r := served(t, c.method, c.path)
			assert.Equal(t, c.code, r.Code)
			assert.NotContains(t, r.Body.String(), "secret")
			assert.NotContains(t, r.Header().Get("Cache-Control"), "immutable")
		})
	}
}

func TestServeFollowsABuild(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "dist")
	files := map[string][]byte{"index.html": []byte("old"), "sw.js": nil, "manifest.webmanifest": nil}
	require.NoError(t, write(dir, files, Fast))
	handler, err := Handler(dir)
	require.NoError(t, err)
	ask := func() *httptest.ResponseRecorder {
		r := httptest.NewRecorder()
		handler.ServeHTTP(r, httptest.NewRequest(http.MethodGet, "/", nil))
		return r
	}
	assert.Equal(t, "old", ask().Body.String())
	files["index.html"] = []byte("new")
	require.NoError(t, write(dir, files, Fast))
	assert.Equal(t, "new", ask().Body.String())
	require.NoError(t, os.RemoveAll(dir))
	assert.Equal(t, http.StatusServiceUnavailable, ask().Code)
	_, err = Handler(dir)
	require.Error(t, err)
}

// Whatever the path, nothing from outside the folder is served.
func FuzzServeStaysInside(f *testing.F) {
	parent := f.TempDir()
	require.NoError(f, os.WriteFile(filepath.Join(parent, "secret.txt"), []byte("secret"), 0o644))
	dir := filepath.Join(parent, "dist")
	require.NoError(f, os.MkdirAll(filepath.Join(dir, "icons"), 0o755))
	require.NoError(f, os.WriteFile(filepath.Join(dir, "index.html"), []byte("page"), 0o644))
	require.NoError(f, os.Symlink("../secret.txt", filepath.Join(dir, "link.txt")))
	handler, err := Handler(dir)
	require.NoError(f, err)
	for _, path := range []string{"/", "/link.txt", "/../secret.txt", "/icons/../../secret.txt", "//", "/\x00", `/..\secret.txt`} {
		f.Add(path, "br")
	}
	f.Fuzz(func(t *testing.T, path, accept string) {
		request := httptest.NewRequest(http.MethodGet, "http://localhost/", nil)
		request.URL.Path = path
		request.Header.Set("Accept-Encoding", accept)
		r := httptest.NewRecorder()
		handler.ServeHTTP(r, request)
		require.NotContains(t, r.Body.String(), "secret\n")
		require.NotEqual(t, "secret", r.Body.String())
		if r.Code == http.StatusOK {
			require.Equal(t, "page", r.Body.String())
		}
	})
}

func TestServeHead(t *testing.T) {
	r := served(t, http.MethodHead, "/")
	assert.Equal(t, http.StatusOK, r.Code)
	assert.Empty(t, r.Body.String())
}

func TestListenTakesAFreePort(t *testing.T) {
	first, err := Listen("localhost", 0)
	require.NoError(t, err)
	defer first.Close()
	taken := first.Addr().(*net.TCPAddr).Port
	second, err := Listen("localhost", taken)
	require.NoError(t, err)
	defer second.Close()
	assert.NotEqual(t, taken, second.Addr().(*net.TCPAddr).Port)
	assert.True(t, second.Addr().(*net.TCPAddr).IP.IsLoopback())
}
