#!/bin/sh
cat section.yaml
