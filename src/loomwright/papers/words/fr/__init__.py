"""The French catalogue, one module per topic, with the names of the English one.

French as it is read in Canada and in Europe; the reader is addressed as `vous`. The spaces before a colon, a semicolon,
a question mark and inside guillemets are plain here and are made such that no line breaks at them when the catalogue is
paired with the English one.
"""
