printf '\000b\000e\000d\000:\000\n' >input.yaml
