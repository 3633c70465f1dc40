package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"plansheaf": main})
}

// The scripts are the commands as a person types them, with what must come out.
func TestScripts(t *testing.T) {
	example, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(env *testscript.Env) error {
			env.Setenv("PROJECT", example+"/../..")
			return nil
		},
	})
}
