//go:build unix

package main

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"testing"
	"time"
)

// A real process ends by each of its signals with 0 and leaves no file.
func TestServeEndsBySignal(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP} {
		if signal.Ignored(sig) { // as under nohup: the program inherits it and is meant to go on
			t.Logf("%v is ignored here", sig)
			continue
		}
		temp := t.TempDir()
		cmd, stderr := program(t, "serve", "--listen", "127.0.0.1:0")
		cmd.Env = append(cmd.Env, "TMPDIR="+temp)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		line, err := bufio.NewReader(out).ReadString('\n')
		if err != nil {
			t.Fatalf("%v: %s", err, stderr)
		}
		body, kind := form(t, field{"capture", "a.csv", drawCSV()})
		res, err := http.Post(addressLine.FindString(line), kind, body)
		if err != nil || res.StatusCode != http.StatusOK {
			t.Fatalf("%v: %v", res, err)
		}
		io.Copy(io.Discard, res.Body)
		res.Body.Close()
		from := time.Now()
		cmd.Process.Signal(sig)
		stuck := time.AfterFunc(30*time.Second, func() { cmd.Process.Kill() })
		defer stuck.Stop()
		if err := cmd.Wait(); err != nil || stderr.Len() > 0 {
			t.Errorf("%v: %v, said %q", sig, err, stderr)
		}
		if wait := time.Since(from); wait > 3*time.Second {
			t.Errorf("%v: ended after %v", sig, wait)
		}
		if left, err := os.ReadDir(temp); err != nil || len(left) > 0 {
			t.Errorf("%v: left %v behind (%v)", sig, left, err)
		}
	}
}
