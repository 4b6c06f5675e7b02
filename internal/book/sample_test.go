package book

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

const sampleID = "6f1d1f0c-8f0e-4a52-9a8f-0c8d2f1b7a11"

func sample(t testing.TB, kind string) string {
	t.Helper()
	text, err := os.ReadFile("booktest/testdata/form1/" + kind + ".json")
	require.NoError(t, err)
	return string(text)
}
