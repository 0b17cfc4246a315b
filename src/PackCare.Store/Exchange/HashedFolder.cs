using System.Security.Cryptography;
using System.Text;

namespace PackCare.Store.Exchange;

/// <summary>A folder that is being written, with the list of what is in it in the form that sha256sum checks.</summary>
internal sealed class HashedFolder(string folder)
{
    public const string ListName = "SHA256SUMS";

    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private readonly SortedDictionary<string, string> _sums = new(StringComparer.Ordinal);

    public void Write(string name, Action<TextWriter> write)
    {
        string path = Path.Combine(folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        using var sha256 = SHA256.Create();
        using (FileStream file = File.Create(path))
        using (CryptoStream hashing = new(file, sha256, CryptoStreamMode.Write))
        using (StreamWriter text = new(hashing, Utf8) { NewLine = "\n" })
        {
            write(text);
        }

        _sums.Add(name, Convert.ToHexStringLower(sha256.Hash!));
    }

    public void Close() => File.WriteAllText(
        Path.Combine(folder, ListName),
        string.Concat(_sums.Select(sum => $"{sum.Value}  {sum.Key}\n")),
        Utf8);

    /// <summary>Compares every file with the list.</summary>
    /// <returns>The names in the list.</returns>
    /// <exception cref="FormatException">A file is missing, changed, or not in the list.</exception>
    public static IReadOnlyList<string> Check(string folder)
    {
        string[] lines = File.ReadAllLines(Path.Combine(folder, ListName), Utf8);
        HashSet<string> names = new(StringComparer.Ordinal);
        foreach (string line in lines)
        {
            string[] parts = line.Split("  ", 2);
            if (parts.Length != 2 || Path.IsPathRooted(parts[1]) || parts[1].Split('/').Contains("..") || !names.Add(parts[1]))
            {
                throw new FormatException($"{ListName} has a line that names no file of its folder: '{line}'");
            }

            string path = Path.Combine(folder, parts[1]);
            if (!File.Exists(path))
            {
                throw new FormatException($"{parts[1]} is missing");
            }

            using FileStream file = File.OpenRead(path);
            if (Convert.ToHexStringLower(SHA256.HashData(file)) != parts[0])
            {
                throw new FormatException($"{parts[1]} is not as it was exported");
            }
        }

        return [.. names];
    }
}
