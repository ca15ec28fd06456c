truncate -s 2G input.yaml
