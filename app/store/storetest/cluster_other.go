//go:build !unix

package storetest

func start() (url string, stop func(), skip string) {
	return "", nil, "it is started only on Unix"
}
