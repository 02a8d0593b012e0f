package reports

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func fairJSON(t testing.TB) []byte {
	var b bytes.Buffer
	require.NoError(t, New(fair(t)).WriteJSON(&b))
	return b.Bytes()
}

// No single byte of a result can be another one, be missing or be there twice, and
// nothing can be put in, without the file being refused.
func TestNoByteOfAResultCanChange(t *testing.T) {
	good := fairJSON(t)
	_, err := ReadResult("r.json", good)
	require.NoError(t, err)
	stride := 29
	if testing.Short() {
		stride = 149
	}
	tried := 0
	refuse := func(at int, parts ...[]byte) {
		tried++
		_, err := ReadResult("r.json", bytes.Join(parts, nil))
		require.Error(t, err, "at byte %d", at)
	}
	for at := 0; at <= len(good); at++ {
		if at%stride != 0 && at < len(good)-100 {
			continue // the end is tried byte by byte
		}
		for _, more := range []string{" ", "\n", "0", ",", `"`} {
			refuse(at, good[:at], []byte(more), good[at:])
		}
		if at == len(good) {
			break
		}
		for _, bit := range []byte{1, 0x20, 0x80} { // 0x20 makes capitals small
			refuse(at, good[:at], []byte{good[at] ^ bit}, good[at+1:])
		}
		refuse(at, good[:at], good[at+1:])
		refuse(at, good[:at])
	}
	t.Logf("%d corruptions of %d bytes, all refused", tried, len(good))
}

// A line of a result can neither be missing nor stand twice nor elsewhere.
func TestNoLineOfAResultCanMove(t *testing.T) {
	lines := bytes.SplitAfter(fairJSON(t), []byte("\n"))
	for i := range lines[:len(lines)-1] {
		for j := range lines {
			var moved [][]byte
			for k, l := range lines {
				if k == j {
					moved = append(moved, lines[i])
				}
				if k != i {
					moved = append(moved, l)
				}
			}
			text := bytes.Join(moved, nil)
			if j == i || j == i+1 {
				text = bytes.Join(append(lines[:i:i], lines[i+1:]...), nil)
			}
			_, err := ReadResult("r.json", text)
			assert.Error(t, err, "line %d before line %d", i+1, j+1)
		}
	}
}

// What stands after the hash could say anything.
func TestNothingComesAfterTheHash(t *testing.T) {
	good := string(fairJSON(t))
	for _, more := range []string{
		`, "fabrics": []`, `, "fabrics": [{"fabric": "gold", "kerf": 0, "sheets": []}]`, `, "Fabrics": null`, `, "title": "another"`, `, "unit": "cm"`,
		`, "keep": {"least": [1, 1], "widths": [5]}`, `, "hash": "0"`, ` `,
	} {
		text := strings.TrimSuffix(good, "\n}\n") + more + "\n}\n"
		require.True(t, json.Valid([]byte(text)))
		_, err := ReadResult("r.json", []byte(text))
		assert.ErrorContains(t, err, "the file was changed after it was written", more)
	}
	for _, tail := range []string{"\n", " ", "\r\n", "null"} {
		_, err := ReadResult("r.json", []byte(good+tail))
		assert.Error(t, err, "%q", tail)
	}
}

// A result whose hash is right but which no program of ours can have written is
// refused as well, or read without harm.
func FuzzReadResult(f *testing.F) {
	good := fairJSON(f)
	end := bytes.LastIndex(good, []byte("  \"hash\": "))
	f.Add(good[:end])
	f.Add([]byte("{\n  \"schema\": \"pinfold/result/1\",\n  \"ticks_per_inch\": 8128,\n  \"unit\": \"in\",\n  \"fabrics\": [{\"sheets\": [null]}],\n"))
	f.Add([]byte("{\n  \"schema\": \"pinfold/result/1\",\n  \"ticks_per_inch\": 8128,\n  \"unit\": \"cm\",\n  \"keep\": {\"least\": [-1, 9], \"widths\": [0]},\n"))
	f.Fuzz(func(t *testing.T, above []byte) {
		rec, err := ReadResult("r.json", append(bytes.Clone(above), hashJSON(above)...))
		if err != nil {
			require.Nil(t, rec)
			require.True(t, strings.HasPrefix(err.Error(), "r.json:"), err.Error())
			return
		}
		numbers := map[int]bool{}
		for _, s := range rec.Sheets {
			require.False(t, numbers[s.Number])
			numbers[s.Number] = true
			require.Positive(t, s.Copies)
			require.Positive(t, s.Cloth.Area())
			for _, o := range s.Offcuts {
				require.Positive(t, o.Area())
			}
		}
		for _, w := range rec.Widths {
			require.Positive(t, w)
		}
		require.False(t, min(rec.Keep.Along, rec.Keep.Across) < 0)
	})
}
