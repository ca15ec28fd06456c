mkdir section.yaml
