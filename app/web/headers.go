package web

import (
	"net/http"
)

// policy lets the pages run their own scripts and the engine (WebAssembly), and
// nothing else: no script inside a page, nothing from elsewhere, no frame around.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; " +
	"connect-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// filePolicy is for what people bring and what is made for them: pictures and
// drawings that are shown by themselves run nothing. A drawing's own style is in it.
const filePolicy = "default-src 'none'; style-src 'unsafe-inline'; sandbox; frame-ancestors 'none'"

// headed gives every answer its safe headers.
func (s *Server) headed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(self), geolocation=(), microphone=(), payment=(), usb=()")
		h.Set("Cache-Control", "no-store")
		if s.conf.Secure {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		next.ServeHTTP(w, r)
	})
}

// cookieName is the session's cookie. The prefix has browsers refuse one that was
// not set by https, for this host alone (RFC 6265bis).
func (s *Server) cookieName() string {
	if s.conf.Secure {
		return "__Host-stallwright"
	}
	return "stallwright"
}

// cookie is the session's cookie with a value; an empty one takes it away.
func (s *Server) cookie(value string) http.Cookie {
	c := http.Cookie{Name: s.cookieName(), Value: value, Path: "/", HttpOnly: true, Secure: s.conf.Secure, SameSite: http.SameSiteStrictMode, MaxAge: int(sessionLasts.Seconds())}
	if value == "" {
		c.MaxAge = -1
	}
	return c
}
