package account

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"encoding/hex"
	"strings"
)

// NewToken makes a secret of 256 random bits for a session or a link, in letters
// and digits that stand in an address as they are.
func NewToken() string {
	var b [32]byte
	_, _ = rand.Read(b[:]) // never fails: crypto/rand
	return strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b[:]))
}

// TokenSum is what is kept of a token. A plain digest does: nobody can try 2^256
// tokens.
func TokenSum(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}
