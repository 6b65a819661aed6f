package account

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"
)

// Cost is what one check of a password takes.
type Cost struct {
	KiB    uint32 // memory
	Passes uint32
	Lanes  uint8
}

// Usual is the cost of passwords set now: 19 MiB and two passes, the least that
// the OWASP password storage cheat sheet names for argon2id (from memory); some
// 40 to 80 ms on an office machine. It is kept low in memory so that a phone-sized
// server stands several people signing in at once.
var Usual = Cost{KiB: 19 << 10, Passes: 2, Lanes: 1}

// most bounds the cost that a stored hash may ask for, so that a row of the
// database changed by hand cannot stop the server.
var most = Cost{KiB: 256 << 10, Passes: 10, Lanes: 8}

const saltBytes, keyBytes = 16, 32

// ErrHash says that a stored hash cannot be read.
var ErrHash = errors.New("the stored password is damaged; set a new one with stallwright account password")

// Hash makes what is stored of a password, in the form of the argon2 reference
// implementation: $argon2id$v=19$m=19456,t=2,p=1$salt$key. The password is
// normalised (NFKC), so that it can be typed on any keyboard.
func Hash(password string, c Cost) string {
	var salt [saltBytes]byte
	_, _ = rand.Read(salt[:]) // never fails: crypto/rand
	key := derive(password, salt[:], c)
	enc := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, c.KiB, c.Passes, c.Lanes, enc.EncodeToString(salt[:]), enc.EncodeToString(key))
}

func derive(password string, salt []byte, c Cost) []byte {
	return argon2.IDKey([]byte(norm.NFKC.String(password)), salt, c.Passes, c.KiB, c.Lanes, keyBytes)
}

// Matches says whether a password is the one a hash was made of.
func Matches(hash, password string) (bool, error) {
	parts := strings.Split(hash, "$")
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" {
		return false, ErrHash
	}
	var version int
	var c Cost
	if _, err := fmt.Sscanf(parts[2], "v=%d", &version); err != nil || version != argon2.Version {
		return false, ErrHash
	}
	if _, err := fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &c.KiB, &c.Passes, &c.Lanes); err != nil {
		return false, ErrHash
	}
	if c.KiB == 0 || c.Passes == 0 || c.Lanes == 0 || c.KiB > most.KiB || c.Passes > most.Passes || c.Lanes > most.Lanes {
		return false, ErrHash
	}
	salt, err := base64.RawStdEncoding.DecodeString(parts[4])
	if err != nil || len(salt) < 8 {
		return false, ErrHash
	}
	key, err := base64.RawStdEncoding.DecodeString(parts[5])
	if err != nil || len(key) != keyBytes {
		return false, ErrHash
	}
	return subtle.ConstantTimeCompare(key, derive(password, salt, c)) == 1, nil
}

// Decoy is a hash of no password. Checking against it where there is no such name
// takes as long as where there is, so that nobody learns which names exist.
var Decoy = Hash("no such account", Usual)
