// What Go ships to start its programs in a browser; the build knows where it is.
declare module "go-glue";
