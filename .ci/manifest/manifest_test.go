// Package manifest checks the Kubernetes recipe without a cluster: against
// the types of the published interface, an unknown or misspelt field being an
// error. It is a module of its own, so that the program does not depend on
// them.
package manifest

import (
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	batchv1 "k8s.io/api/batch/v1"
	corev1 "k8s.io/api/core/v1"
	"sigs.k8s.io/yaml"
)

const recipe = "../../cmd/threewire/recipes/kubernetes.yaml"

func job(t *testing.T, text []byte) (*batchv1.Job, error) {
	t.Helper()
	var j batchv1.Job
	err := yaml.UnmarshalStrict(text, &j)
	return &j, err
}

func TestManifest(t *testing.T) {
	text, err := os.ReadFile(recipe)
	if err != nil {
		t.Fatal(err)
	}
	j, err := job(t, text)
	if err != nil {
		t.Fatal(err)
	}
	if j.APIVersion != "batch/v1" || j.Kind != "Job" || j.Name == "" {
		t.Errorf("%s %s %q: want a named batch/v1 Job", j.APIVersion, j.Kind, j.Name)
	}
	s := j.Spec
	if s.CompletionMode == nil || *s.CompletionMode != batchv1.IndexedCompletion || s.Completions == nil {
		t.Fatalf("completionMode %v, completions %v: want an indexed Job with a number", s.CompletionMode, s.Completions)
	}
	// These rules are the documentation's: a Job's pods restart never or on
	// failure, and a limit for each index needs Never.
	if p := s.Template.Spec.RestartPolicy; p != corev1.RestartPolicyNever {
		t.Errorf("restartPolicy %q, want Never", p)
	}
	if len(s.Template.Spec.Containers) != 1 {
		t.Fatalf("%d containers, want 1", len(s.Template.Spec.Containers))
	}
	c := s.Template.Spec.Containers[0]
	for _, m := range c.VolumeMounts {
		if !slices.ContainsFunc(s.Template.Spec.Volumes, func(v corev1.Volume) bool {
			return v.Name == m.Name && v.PersistentVolumeClaim != nil
		}) {
			t.Errorf("mount %s has no claim", m.Name)
		}
	}
	for name, most := range c.Resources.Limits {
		if least := c.Resources.Requests[name]; least.Cmp(most) > 0 {
			t.Errorf("requests %s of %s, more than its limit %s", least.String(), name, most.String())
		}
	}
	parts := ""
	for _, e := range c.Env {
		if e.Name == "PARTS" {
			parts = e.Value
		}
	}
	if parts != strconv.Itoa(int(*s.Completions)) {
		t.Errorf("PARTS is %q, completions %d: want the same", parts, *s.Completions)
	}
}

// The container's command is run with a stand-in for the program.
func TestCommand(t *testing.T) {
	text, err := os.ReadFile(recipe)
	if err != nil {
		t.Fatal(err)
	}
	j, err := job(t, text)
	if err != nil {
		t.Fatal(err)
	}
	bin := t.TempDir()
	if err := os.WriteFile(bin+"/threewire", []byte("#!/bin/sh\nprintf '%s|' \"$@\"\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	c := j.Spec.Template.Spec.Containers[0]
	cmd := exec.Command(c.Command[0], append(slices.Clone(c.Command[1:]), c.Args...)...)
	// An indexed Job sets JOB_COMPLETION_INDEX from 0.
	cmd.Env = []string{"PATH=" + bin + ":" + os.Getenv("PATH"), "JOB_COMPLETION_INDEX=2", "PARTS=8"}
	out, err := cmd.CombinedOutput()
	if want := "batch|/shelf|--quiet|--workers|1|--shard|3/8|--out|/rows/part-3.jsonl|"; err != nil || string(out) != want {
		t.Errorf("runs %q, %v; want %q", out, err, want)
	}
}

func TestAMisspeltFieldIsAnError(t *testing.T) {
	text, err := os.ReadFile(recipe)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{{"completionMode", "completionsMode"}, {"mountPath", "mountpoint"}, {"completions: 8", "completions: eight"}} {
		if _, err := job(t, []byte(strings.Replace(string(text), c[0], c[1], 1))); err == nil {
			t.Errorf("%s instead of %s was taken", c[1], c[0])
		}
	}
}
