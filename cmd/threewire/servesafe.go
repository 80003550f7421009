package main

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"time"
)

// hosts are the names under which the page may be asked for. A browser that
// was led here by a name of somebody else's (DNS rebinding) sends that name,
// and is refused.
type hosts struct {
	port  string
	names []string // lower case; the first one is printed
	anyIP bool     // any address in numbers, which nobody can rebind
	local bool     // reached from this computer alone
}

// hostsOf settles the names for an address as given and as listened to.
func hostsOf(given string, addr net.Addr) hosts {
	name, _, _ := net.SplitHostPort(given)
	at, port, _ := net.SplitHostPort(addr.String())
	h := hosts{port: port}
	ip, err := netip.ParseAddr(at)
	switch {
	case err == nil && ip.IsLoopback():
		h.local = true
		h.names = []string{at, "localhost", "127.0.0.1", "::1"}
	case err == nil && ip.IsUnspecified():
		h.anyIP = true
		h.names = append(h.names, ownAddress(), "localhost")
	default:
		h.names = append(h.names, at)
	}
	if own, err := os.Hostname(); err == nil && !h.local {
		h.names = append(h.names, strings.ToLower(own), strings.ToLower(own)+".local")
	}
	if _, err := netip.ParseAddr(name); err != nil && name != "" {
		h.names = append(h.names, strings.ToLower(name))
	}
	return h
}

// ownAddress is one of this computer in its network.
func ownAddress() string {
	list, err := net.InterfaceAddrs()
	if err != nil {
		return "localhost"
	}
	for _, a := range list {
		if n, ok := a.(*net.IPNet); ok && n.IP.IsGlobalUnicast() && n.IP.To4() != nil {
			return n.IP.String()
		}
	}
	return "localhost"
}

// url is the address to open.
func (h hosts) url() string { return "http://" + net.JoinHostPort(h.names[0], h.port) + "/" }

// has tells whether a Host header is one of ours.
func (h hosts) has(header string) bool {
	name, port, err := net.SplitHostPort(header)
	if err != nil { // no port: that of http
		name, port = strings.Trim(header, "[]"), "80"
	}
	if port != h.port {
		return false
	}
	if _, err := netip.ParseAddr(name); err == nil && h.anyIP {
		return true
	}
	return slices.Contains(h.names, strings.ToLower(name))
}

// Policies for what a browser may do with an answer. The page needs its own
// style, script and pictures; pictures and reports carry styles of their own.
const (
	pagePolicy   = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
	outputPolicy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

// guard stands before all routes: it counts requests under way, survives a
// panic, refuses foreign names and foreign pages, and sets the headers.
func (p *page) guard(h hosts, next http.Handler) http.Handler {
	// Sec-Fetch-Site and Origin, by the standard library.
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		p.message(w, http.StatusForbidden, "This was sent from another web page, so it was refused.", "Open "+h.url()+" and send it from there.")
	}))
	next = cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w = &timely{ResponseWriter: w}
		p.under.Add(1)
		defer p.under.Done()
		defer func() {
			v := recover()
			if v == nil {
				return
			}
			p.log.Printf("%s %s failed, please report it: %v\n%s", r.Method, r.URL.Path, v, debug.Stack())
			if v == http.ErrAbortHandler {
				panic(v)
			}
			p.message(w, http.StatusInternalServerError, "The program failed on this, please report it.", "What it said stands in the window where threewire serve runs. The page goes on working.")
		}()
		set := w.Header().Set
		set("Content-Security-Policy", pagePolicy)
		set("X-Content-Type-Options", "nosniff")
		// "no-referrer" would take the Origin from our own forms too.
		set("Referrer-Policy", "same-origin")
		set("Cross-Origin-Opener-Policy", "same-origin")
		set("Cross-Origin-Resource-Policy", "same-origin")
		set("Cache-Control", "no-store")
		if !h.has(r.Host) {
			p.message(w, http.StatusForbidden, fmt.Sprintf("The page does not answer to the name %q.", clip(r.Host)), "Open "+h.url()+" instead.")
			return
		}
		next.ServeHTTP(w, r)
	})
}

// timely gives an answer its time from when it begins: to judge may take
// longer than a browser may take to read.
type timely struct {
	http.ResponseWriter
	begun bool
}

func (t *timely) WriteHeader(status int) {
	t.begin()
	t.ResponseWriter.WriteHeader(status)
}

func (t *timely) Write(b []byte) (int, error) {
	t.begin()
	return t.ResponseWriter.Write(b)
}

func (t *timely) begin() {
	if !t.begun {
		t.begun = true
		// Only a test's recorder has no deadlines.
		http.NewResponseController(t.ResponseWriter).SetWriteDeadline(time.Now().Add(writeTime))
	}
}

// Unwrap is for http.ResponseController.
func (t *timely) Unwrap() http.ResponseWriter { return t.ResponseWriter }
