package account

import (
	"encoding/hex"
	"strings"
	"testing"

	"golang.org/x/crypto/argon2"
)

var cheap = Cost{KiB: 64, Passes: 1, Lanes: 1}

// The reference implementation's own test vector (P-H-C/phc-winner-argon2, test.c,
// argon2id v=19, t=2, m=2^16 KiB, p=1, "password", "somesalt"; from memory): the
// library below us is the algorithm it says it is.
func TestArgon2idVector(t *testing.T) {
	got := hex.EncodeToString(argon2.IDKey([]byte("password"), []byte("somesalt"), 2, 1<<16, 1, 32))
	if want := "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"; got != want {
		t.Errorf("argon2id gives %s, want %s", got, want)
	}
}

// The same vector in the form it is stored in: read, and matched.
func TestMatchesTheReferencesOwnString(t *testing.T) {
	const stored = "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc"
	if ok, err := Matches(stored, "password"); !ok || err != nil {
		t.Errorf("%v, %v", ok, err)
	}
	if ok, err := Matches(stored, "passwore"); ok || err != nil {
		t.Errorf("another password: %v, %v", ok, err)
	}
}

func TestHashIsSaltedAndMatches(t *testing.T) {
	a, b := Hash("correct horse", cheap), Hash("correct horse", cheap)
	if a == b {
		t.Error("two hashes of one password are alike")
	}
	for _, h := range []string{a, b} {
		if ok, err := Matches(h, "correct horse"); !ok || err != nil {
			t.Errorf("%v %v", ok, err)
		}
		if ok, _ := Matches(h, "correct horsf"); ok {
			t.Error("a wrong password matches")
		}
	}
	// é typed as one character or as e and an accent is the same password.
	if ok, _ := Matches(Hash("caf\u00e9 caf\u00e9", cheap), "cafe\u0301 cafe\u0301"); !ok {
		t.Error("the same word typed on another keyboard does not match")
	}
}

func TestDamagedHashIsAnError(t *testing.T) {
	good := Hash("correct horse", cheap)
	for _, h := range []string{"", "x", strings.Replace(good, "argon2id", "argon2i", 1), good[:len(good)-4], strings.Replace(good, "m=64", "m=99999999", 1), strings.Replace(good, "t=1", "t=0", 1), strings.Replace(good, "v=19", "v=16", 1)} {
		if ok, err := Matches(h, "correct horse"); ok || err == nil {
			t.Errorf("%q: %v, %v", h, ok, err)
		}
	}
}

func TestNamesAndPasswords(t *testing.T) {
	for _, name := range []string{"", " Sam", "Sam ", "<b>", "a\x00b", strings.Repeat("a", 41), "a\u202eb"} {
		if CheckName(name) == nil {
			t.Errorf("the name %q is taken", name)
		}
	}
	for _, name := range []string{"Sam", "José Núñez", "crew-2", "office@farm.example"} {
		if err := CheckName(name); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
	for _, p := range []string{"", "short", "aaaaaaaaaaaa", strings.Repeat("x y", 100), "Samuel Oak"} {
		if CheckPassword("samuel oak", p) == nil {
			t.Errorf("the password %q is taken", p)
		}
	}
	if err := CheckPassword("Sam", "four words are good"); err != nil {
		t.Error(err)
	}
}

func TestTokens(t *testing.T) {
	a, b := NewToken(), NewToken()
	if a == b || len(a) != 52 || strings.ContainsAny(a, "/+=?&%") {
		t.Errorf("%s %s", a, b)
	}
	// FIPS 180-4 example: SHA-256 of "abc".
	if got := TokenSum("abc"); got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Error(got)
	}
}

func TestReadRole(t *testing.T) {
	for _, r := range Roles() {
		if got, err := ReadRole(string(r)); got != r || err != nil {
			t.Error(r, err)
		}
	}
	for _, s := range []string{"customer", "nobody", "", "Owner"} {
		if _, err := ReadRole(s); err == nil {
			t.Errorf("an account may be %q", s)
		}
	}
}

func BenchmarkPassword(b *testing.B) {
	for b.Loop() {
		_, _ = Matches(Decoy, "guess")
	}
}
