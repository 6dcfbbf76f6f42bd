namespace Rootwater.Growing;
