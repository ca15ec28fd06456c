head -c 1048577 /dev/zero | tr '\0' '#' >input.yaml
