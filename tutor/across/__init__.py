"""Families of problems that run across circuits: their circuit, or the problem they are about, is drawn as well."""
