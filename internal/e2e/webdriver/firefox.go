//go:build e2e

package webdriver

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// preferences keep Firefox from asking anything, from asking anybody else's
// server, and from saving its own session. A port of 0 lets it choose one.
var preferences = map[string]any{
	"marionette.port":                                   0,
	"app.update.disabledForTesting":                     true,
	"app.normandy.enabled":                              false,
	"browser.aboutwelcome.enabled":                      false,
	"browser.safebrowsing.malware.enabled":              false,
	"browser.safebrowsing.phishing.enabled":             false,
	"browser.safebrowsing.downloads.enabled":            false,
	"browser.sessionstore.resume_from_crash":            false,
	"browser.shell.checkDefaultBrowser":                 false,
	"browser.startup.homepage_override.mstone":          "ignore",
	"browser.startup.page":                              0,
	"captivedetect.canonicalURL":                        "",
	"datareporting.policy.dataSubmissionEnabled":        false,
	"extensions.systemAddon.update.enabled":             false,
	"network.captive-portal-service.enabled":            false,
	"network.connectivity-service.enabled":              false,
	"network.prefetch-next":                             false,
	"services.settings.server":                          "",
	"toolkit.telemetry.reportingpolicy.firstRun":        false,
	"intl.accept_languages":                             "en",
	"extensions.getAddons.cache.enabled":                false,
	"extensions.update.enabled":                         false,
	"media.gmp-manager.updateEnabled":                   false,
	"browser.newtabpage.activity-stream.feeds.topsites": false,
}

// Firefox starts Firefox with nothing stored in dir, an empty folder.
func Firefox(dir string, patience time.Duration) (*Session, error) {
	program, err := program("firefox-esr", "firefox")
	if err != nil {
		return nil, err
	}
	if err := writePreferences(filepath.Join(dir, "user.js")); err != nil {
		return nil, err
	}
	browser := exec.Command(program, "--headless", "--no-remote", "--marionette", "--profile", dir, "about:blank")
	browser.Env = append(os.Environ(), "HOME="+dir, "MOZ_CRASHREPORTER_DISABLE=1")
	end, err := run(browser)
	if err != nil {
		return nil, err
	}
	wire, err := firefoxWire(dir, patience)
	if err == nil {
		_, err = wire.do(command{firefox: "WebDriver:NewSession"}, "", capabilities(patience, map[string]any{"strictFileInteractability": false}))
	}
	if err != nil {
		end()
		return nil, err
	}
	return &Session{wire: wire, end: func() { wire.Close(); end() }}, nil
}

func writePreferences(file string) error {
	var text strings.Builder
	for name, value := range preferences {
		raw, err := json.Marshal(value)
		if err != nil {
			return err
		}
		fmt.Fprintf(&text, "user_pref(%q, %s);\n", name, raw)
	}
	return os.WriteFile(file, []byte(text.String()), 0o600)
}

// lengthed is Firefox's port: each message is its length in digits, a colon, and
// a JSON list: [0, number, command, parameters], or [1, number, error, result].
type lengthed struct {
	net.Conn
	in     *bufio.Reader
	number int
}

// firefoxWire waits until Firefox has written down its port, and greets it.
func firefoxWire(dir string, patience time.Duration) (*lengthed, error) {
	var port []byte
	err := await(patience, func() (err error) {
		port, err = os.ReadFile(filepath.Join(dir, "MarionetteActivePort"))
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("Firefox does not start: %w", err)
	}
	conn, err := net.DialTimeout("tcp", "127.0.0.1:"+strings.TrimSpace(string(port)), patience)
	if err != nil {
		return nil, err
	}
	wire := &lengthed{Conn: conn, in: bufio.NewReader(conn)}
	_, err = wire.read() // its greeting
	return wire, err
}

func (l *lengthed) read() ([]byte, error) {
	digits, err := l.in.ReadString(':')
	if err != nil {
		return nil, err
	}
	size, err := strconv.Atoi(strings.TrimSuffix(digits, ":"))
	if err != nil {
		return nil, err
	}
	message := make([]byte, size)
	_, err = io.ReadFull(l.in, message)
	return message, err
}

func (l *lengthed) do(command command, element string, parameters map[string]any) (json.RawMessage, error) {
	if parameters == nil {
		parameters = map[string]any{}
	}
	if element != "" {
		parameters["id"] = element
	}
	l.number++
	message, err := json.Marshal([]any{0, l.number, command.firefox, parameters})
	if err != nil {
		return nil, err
	}
	if _, err := fmt.Fprintf(l, "%d:%s", len(message), message); err != nil {
		return nil, err
	}
	return l.answer()
}

func (l *lengthed) answer() (json.RawMessage, error) {
	message, err := l.read()
	if err != nil {
		return nil, err
	}
	var failed *Error
	var result struct{ Value json.RawMessage }
	if err := json.Unmarshal(message, &[]any{new(int), new(int), &failed, &result}); err != nil {
		return nil, fmt.Errorf("%s: %w", message, err)
	}
	if failed != nil {
		return nil, failed
	}
	return result.Value, nil
}
