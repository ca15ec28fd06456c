#!/bin/sh
mkdir place place.png
