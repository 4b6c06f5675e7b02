//go:build e2e

package webdriver

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// miniBrowsers is where Debian keeps WebKit's own small browser.
const miniBrowsers = "/usr/lib/*/webkit2gtk-4.*/MiniBrowser"

// WebKit starts WebKit's own small browser with nothing stored, on a screen that
// nobody sees. Its files go to dir, an empty folder.
func WebKit(dir string, patience time.Duration) (*Session, error) {
	display, endDisplay, err := screen(patience)
	if err != nil {
		return nil, err
	}
	base, endDriver, err := webKitDriver(dir, display, patience)
	if err != nil {
		endDisplay()
		return nil, err
	}
	wire, err := webKitSession(base, patience)
	if err != nil {
		endDriver()
		endDisplay()
		return nil, err
	}
	return &Session{wire: wire, end: func() {
		_, _ = wire.do(command{method: "DELETE"}, "", nil)
		endDriver()
		endDisplay()
	}}, nil
}

// screen starts a display in memory, and returns its name.
func screen(patience time.Duration) (string, func(), error) {
	program, err := program("Xvfb")
	if err != nil {
		return "", nil, err
	}
	out, in, err := os.Pipe()
	if err != nil {
		return "", nil, err
	}
	defer out.Close()
	command := exec.Command(program, "-displayfd", "3", "-screen", "0", "1024x1400x24", "-nolisten", "tcp")
	command.ExtraFiles = []*os.File{in}
	end, err := run(command)
	in.Close()
	if err != nil {
		return "", nil, err
	}
	_ = out.SetReadDeadline(time.Now().Add(patience))
	number, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		end()
		return "", nil, fmt.Errorf("the screen does not start: %w", err)
	}
	return ":" + strings.TrimSpace(number), end, nil
}

// webKitDriver starts the driver, and returns the address that it answers at.
func webKitDriver(dir, display string, patience time.Duration) (string, func(), error) {
	program, err := program("WebKitWebDriver")
	if err != nil {
		return "", nil, err
	}
	port, err := freePort()
	if err != nil {
		return "", nil, err
	}
	command := exec.Command(program, "--host=127.0.0.1", "--port="+port)
	command.Env = append(os.Environ(), "DISPLAY="+display, "HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_CACHE_HOME="+dir, "XDG_CONFIG_HOME="+dir,
		"XDG_RUNTIME_DIR="+dir, "GDK_BACKEND=x11", "NO_AT_BRIDGE=1", "LIBGL_ALWAYS_SOFTWARE=1", "WEBKIT_DISABLE_DMABUF_RENDERER=1", "LANGUAGE=en", "LC_ALL=C.UTF-8")
	if os.Getuid() == 0 {
		command.Env = append(command.Env, "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1")
	}
	end, err := run(command)
	if err != nil {
		return "", nil, err
	}
	address := "127.0.0.1:" + port
	err = await(patience, func() error {
		conn, err := net.Dial("tcp", address)
		if err == nil {
			conn.Close()
		}
		return err
	})
	if err != nil {
		end()
		return "", nil, fmt.Errorf("WebKitWebDriver does not start: %w", err)
	}
	return "http://" + address, end, nil
}

func freePort() (string, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer listener.Close()
	_, port, err := net.SplitHostPort(listener.Addr().String())
	return port, err
}

func webKitSession(base string, patience time.Duration) (*overHTTP, error) {
	browsers, _ := filepath.Glob(miniBrowsers)
	if len(browsers) == 0 {
		return nil, errors.New("WebKit's MiniBrowser is not there")
	}
	// A command may wait for a page or a script as long as the tests do.
	wire := &overHTTP{base + "/session", http.Client{Timeout: patience + 10*time.Second}}
	raw, err := wire.do(command{method: "POST"}, "", capabilities(patience, map[string]any{
		"browserName":              "MiniBrowser",
		"webkitgtk:browserOptions": map[string]any{"binary": browsers[0], "args": []string{"--automation"}},
	}))
	if err != nil {
		return nil, err
	}
	var begun struct{ SessionID string }
	if err := json.Unmarshal(raw, &begun); err != nil {
		return nil, fmt.Errorf("%s: %w", raw, err)
	}
	wire.session += "/" + begun.SessionID
	return wire, nil
}

// overHTTP is WebDriver as it is written down: one request a command.
type overHTTP struct {
	session string
	client  http.Client
}

func (o *overHTTP) do(command command, element string, parameters map[string]any) (json.RawMessage, error) {
	path := command.path
	if element != "" {
		path = fmt.Sprintf(path, element)
	}
	var body bytes.Buffer
	if command.method == "POST" {
		if parameters == nil {
			parameters = map[string]any{}
		}
		if err := json.NewEncoder(&body).Encode(parameters); err != nil {
			return nil, err
		}
	}
	request, err := http.NewRequest(command.method, o.session+path, &body)
	if err != nil {
		return nil, err
	}
	request.Header.Set("Content-Type", "application/json; charset=utf-8")
	response, err := o.client.Do(request)
	if err != nil {
		return nil, err
	}
	defer response.Body.Close()
	return answer(response)
}

func answer(response *http.Response) (json.RawMessage, error) {
	var result struct{ Value json.RawMessage }
	if err := json.NewDecoder(response.Body).Decode(&result); err != nil {
		return nil, fmt.Errorf("%s: %w", response.Status, err)
	}
	if response.StatusCode == http.StatusOK {
		return result.Value, nil
	}
	var failed Error
	if err := json.Unmarshal(result.Value, &failed); err != nil {
		return nil, fmt.Errorf("%s: %s", response.Status, result.Value)
	}
	return nil, &failed
}
